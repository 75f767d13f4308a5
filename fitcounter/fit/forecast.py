"""What a go on the tree keeps, how far the next one may open, and how many there will be.

A normal prior for the fraction kept after 24 h, from the class of leather, is corrected by this boot's own rounds and
by the shop's records (conjugate updates). The number of further rounds is a distribution over 99 quantiles of that
fraction and 5 of the need. All lengths are mm of girth, holds are hours.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

from fitcounter.fit import handbook_leg as tape_book
from fitcounter.fit import handbook_rounds as book
from fitcounter.fit.shaft import leather_now_mm


@dataclass(frozen=True, slots=True)
class Round:
    """One go on the tree, all readings by one method at one mark, as read (a width where the method is "flat").

    on_tree_mm is None where it was not recorded or read by another method: such a round grew the boot but gives no kept
    fraction. rested_mm is None while it runs. hold_h > 0.
    """

    before_mm: float
    on_tree_mm: float | None
    rested_mm: float | None
    method: str = "outside"
    hold_h: float = book.HOLD_H
    dry: bool = False

    @property
    def factor(self) -> int:
        """Girth per reading: a width laid flat counts twice."""
        return tape_book.FLAT_FACTOR if self.method == "flat" else 1

    @property
    def opening_mm(self) -> float | None:
        return None if self.on_tree_mm is None else self.factor * (self.on_tree_mm - self.before_mm)

    @property
    def gain_mm(self) -> float | None:
        return None if self.rested_mm is None else self.factor * (self.rested_mm - self.before_mm)

    @property
    def kept(self) -> float | None:
        """Share of the opening that stayed; None where it is not known."""
        opening, gain = self.opening_mm, self.gain_mm
        return None if opening is None or gain is None else gain / opening


@dataclass(frozen=True, slots=True)
class Kept:
    """The fraction kept after 24 h, conditioned, in a first round: normal. rounds, boots: what it stands on."""

    mean: float
    sd: float
    rounds: int = 0
    boots: int = 0


def growth_mm(rounds: Sequence[Round]) -> float:
    """How much the boot has grown at the tightest place over its read rounds.

    A rested reading is compared with the rested reading before it where both were taken by one method, else with its
    own round's start.
    """
    grown, method, rested = 0.0, "", 0.0
    for turn in rounds:
        if turn.rested_mm is not None:
            start = rested if turn.method == method else turn.before_mm
            method, rested = turn.method, turn.rested_mm
            grown += turn.factor * (rested - start)
    return grown


def hold_bonus(hold_h: float) -> float:
    """What a hold adds to the fraction kept after 24 h; negative for a shorter one."""
    return book.KEPT_PER_DECADE * math.log10(hold_h / book.KEPT_BASE_H)


def kept_fraction(kept_24h: float, hold_h: float, dry: bool, number: int) -> float:
    """What the number-th round of the boot's life (from 1) keeps of its opening after a hold."""
    held = min(book.KEPT_MOST, max(book.KEPT_LEAST, kept_24h + hold_bonus(hold_h)))
    return held * (book.DRY_FACTOR if dry else 1) * book.STIFFENING ** (number - 1)


def _evidence(rounds: Iterable[Round]) -> tuple[float, float, int]:
    """Precision, precision times value, and count of what rounds say about the fraction kept after 24 h."""
    precision, weighted, count = 0.0, 0.0, 0
    for number, turn in enumerate(rounds, start=1):
        if turn.opening_mm is None or turn.gain_mm is None:
            continue
        reach = turn.opening_mm * book.STIFFENING ** (number - 1) * (book.DRY_FACTOR if turn.dry else 1)
        variance = 2 * (turn.factor * tape_book.BOOT_READING_MM) ** 2
        precision += reach**2 / variance
        weighted += reach * (turn.gain_mm - reach * hold_bonus(turn.hold_h)) / variance
        count += 1
    return precision, weighted, count


def corrected(prior: Kept, rounds: Sequence[Round]) -> Kept:
    """The prior corrected by this boot's own rounds, oldest first (unread ones count as lived, and say nothing)."""
    told, weighted, count = _evidence(rounds)
    precision = 1 / prior.sd**2 + told
    mean = (prior.mean / prior.sd**2 + weighted) / precision
    return Kept(mean, 1 / math.sqrt(precision), prior.rounds + count, prior.boots)


@dataclass(frozen=True, slots=True)
class BootRecord:
    """What one finished boot says about its class: kept after 24 h, and the variance of that."""

    kept: float
    variance: float


def boot_record(rounds: Sequence[Round]) -> BootRecord | None:
    """A finished boot's record; None where no round of it gives a kept fraction."""
    precision, weighted, count = _evidence(rounds)
    return BootRecord(weighted / precision, 1 / precision) if count else None


def class_kept(table_mean: float, records: Sequence[BootRecord]) -> Kept:
    """The class's kept fraction from its table value and the shop's finished boots: mean, and sd for a further boot."""
    precision = 1 / book.CLASS_MEAN_VARIANCE
    weighted = table_mean * precision
    for record in records:
        weight = 1 / (book.BETWEEN_BOOTS_VARIANCE + record.variance)
        precision += weight
        weighted += weight * record.kept
    return Kept(weighted / precision, math.sqrt(book.BETWEEN_BOOTS_VARIANCE + 1 / precision), boots=len(records))


@dataclass(frozen=True, slots=True)
class Running:
    """A round that is on the tree now. opening_mm of girth, above 0; hold_h: the hold it is meant to have."""

    opening_mm: float
    hold_h: float
    dry: bool


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a boot stands at its tightest place.

    first_mm, leather_mm: girth and leather part as first brought in; girth_mm: now; need_mm, need_u_mm: short by, and its
    standard uncertainty; round_strain, ceiling_strain: limits; zip_strain (None: no zip there) and seam_strain: where the
    load says hold here; tree_mm: the tree's largest girth, if known; kept: corrected; hold_h: of rounds to come; lived:
    rounds of the boot's life, a running one included; running: that one.
    """

    first_mm: float
    leather_mm: float
    girth_mm: float
    need_mm: float
    need_u_mm: float
    round_strain: float
    ceiling_strain: float
    zip_strain: float | None
    seam_strain: float
    tree_mm: float | None
    kept: Kept
    hold_h: float
    lived: int = 0
    running: Running | None = None

    def leather_at(self, girth_mm: float) -> float:
        """Leather part when the boot's girth is this."""
        return leather_now_mm(self.leather_mm, self.first_mm, girth_mm)

    def kept_by(self, kept_24h: float, further: int) -> float:
        """What the further-th round from now (from 1) keeps; a running round is the first, with its own hold."""
        if self.running is None:
            return kept_fraction(kept_24h, self.hold_h, False, self.lived + further)
        if further == 1:
            return kept_fraction(kept_24h, self.running.hold_h, self.running.dry, self.lived)
        return kept_fraction(kept_24h, self.hold_h, False, self.lived + further - 1)

    def bounds(self, girth_mm: float) -> dict[str, float]:
        """The girths that limit an opening from girth_mm, whatever the need, in the order that decides ties."""
        leather = self.leather_at(girth_mm)
        bounds = {"round": girth_mm + self.round_strain * leather, "ceiling": self.first_mm + self.ceiling_strain * self.leather_mm}
        if self.zip_strain is not None:
            bounds["zip"] = girth_mm + self.zip_strain * leather
        bounds["seam"] = girth_mm + self.seam_strain * leather
        if self.tree_mm is not None:
            bounds["tree"] = self.tree_mm
        return bounds

    def furthest_opening(self, girth_mm: float) -> float:
        """How far a round may open from girth_mm, the need left aside."""
        return max(0.0, min(self.bounds(girth_mm).values()) - girth_mm)


@dataclass(frozen=True, slots=True)
class Opening:
    """The next opening. girth_mm: on the tree; limited_by: round, ceiling, zip, seam, need, tree or running."""

    girth_mm: float
    opening_mm: float
    limited_by: str
    kept: float

    @property
    def expected_gain_mm(self) -> float:
        return self.kept * self.opening_mm


ORDER = ("round", "ceiling", "zip", "seam", "need", "tree")


def next_opening(stand: Stand) -> Opening:
    """How far the next round opens; a running one is taken as it was opened."""
    kept = stand.kept_by(stand.kept.mean, 1)
    if stand.running is not None:
        return Opening(stand.girth_mm + stand.running.opening_mm, stand.running.opening_mm, "running", kept)
    bounds = stand.bounds(stand.girth_mm)
    bounds["need"] = stand.girth_mm + max(0.0, stand.need_mm - tape_book.TOLERANCE_MM / 2) / kept
    least = min(bounds.values())
    limited_by = next(name for name in ORDER if name in bounds and bounds[name] <= least + tape_book.TIE)
    girth = max(stand.girth_mm, least)
    return Opening(girth, girth - stand.girth_mm, limited_by, kept)


def _growths(stand: Stand, first_mm: float, kept_24h: float, rounds: int) -> list[float]:
    """Growth after 1 … rounds further rounds: a first opening as given, then as far as the limits let, whatever the need."""
    grown = stand.kept_by(kept_24h, 1) * first_mm
    growths = [grown]
    for further in range(2, rounds + 1):
        girth = stand.girth_mm + grown
        grown += stand.kept_by(kept_24h, further) * stand.furthest_opening(girth)
        growths.append(grown)
    return growths


def reach_mm(stand: Stand, rounds: int) -> list[float]:
    """Expected growth from now after 1 … rounds further rounds if each opens as far as it may."""
    first = stand.running.opening_mm if stand.running is not None else stand.furthest_opening(stand.girth_mm)
    return _growths(stand, first, stand.kept.mean, rounds)


@dataclass(frozen=True, slots=True)
class Odds:
    """How many further rounds: counts of 0 … 6 rounds and of more, out of all quantiles."""

    counts: tuple[int, ...]

    @property
    def total(self) -> int:
        return sum(self.counts)

    @property
    def shares(self) -> tuple[float, ...]:
        """Probability of 0 … 6 rounds and of more."""
        return tuple(count / self.total for count in self.counts)

    def within(self, rounds: int) -> float:
        """Probability of done within that many further rounds (0 … 6)."""
        return sum(self.counts[: rounds + 1]) / self.total

    @property
    def likely(self) -> int | None:
        """The most probable number, the smallest on a tie; None where more than 6 is."""
        number = self.counts.index(max(self.counts))
        return number if number <= book.MOST_ROUNDS else None

    @property
    def eight_in_ten(self) -> int | None:
        """The smallest number that is enough in eight cases of ten; None beyond 6."""
        return next((n for n in range(book.MOST_ROUNDS + 1) if self.within(n) >= book.EIGHT_IN_TEN), None)


def odds(stand: Stand, opening: Opening) -> Odds:
    """The distribution of further rounds until what is left to need is within tolerance.

    Each quantile opens first as the mean does, then by its own kept fraction and its own remaining need. An opening that
    the need limits ends at half a tolerance short, which is done: so a quantile is done with the first round whose growth,
    the need left aside, is within tolerance of it, and one run serves all needs.
    """
    needs = [stand.need_mm + stand.need_u_mm * step for step in normal_quantiles(book.NEED_QUANTILES)]
    wanted = [need - tape_book.TOLERANCE_MM for need in needs]
    counts = [0] * (book.MOST_ROUNDS + 2)
    for step in normal_quantiles(book.KEPT_QUANTILES):
        growths = _growths(stand, opening.opening_mm, stand.kept.mean + stand.kept.sd * step, book.MOST_ROUNDS)
        for want in wanted:
            counts[_rounds_until(want, growths)] += 1
    return Odds(tuple(counts))


def _rounds_until(want_mm: float, growths: Sequence[float]) -> int:
    """Rounds until the growth is there; one more than 6 stands for never within them."""
    if want_mm <= tape_book.TIE:
        return 0
    enough = want_mm - tape_book.TIE
    return next((number for number, grown in enumerate(growths, start=1) if grown >= enough), len(growths) + 1)


@cache
def normal_quantiles(number: int) -> tuple[float, ...]:
    """Standard normal quantiles at (j + ½)/number."""
    return tuple(NormalDist().inv_cdf((step + 0.5) / number) for step in range(number))


def rounds_in_closed_form(first_mm: float, wanted_mm: float, tree_mm: float, kept: float) -> int | None:
    """Rounds from first to wanted girth with a constant tree and a constant kept fraction in (0, 1); None: never."""
    if first_mm >= wanted_mm:
        return 0
    if tree_mm <= wanted_mm:
        return None
    return math.ceil(math.log((tree_mm - wanted_mm) / (tree_mm - first_mm)) / math.log(1 - kept))
