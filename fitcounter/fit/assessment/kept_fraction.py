"""What a round on the tree keeps: from the class of leather, this boot's own rounds, its pair's.

The fraction kept after 24 h, the error of the boot's last reading and that of its first are jointly
normal; each round that was read corrects them (a linear update; no standard, our model). Openings
and gains are millimetres of girth, holds are hours.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leg import BOOT_READING_MM, FLAT_FACTOR, TIE


@dataclass(frozen=True, slots=True)
class MeasuredRound:
    """One round on the tree, all readings by one method at one mark (a width where it is "flat").

    on_tree_mm is None where it was not recorded or read by another method: such a round grew the
    boot but gives no kept fraction. rested_mm is None while it runs. hold_h > 0. before_count,
    rested_count: how often each was read.
    """

    before_mm: float
    on_tree_mm: float | None
    rested_mm: float | None
    method: str = "outside"
    hold_h: float = book.HOLD_H
    dry: bool = False
    before_count: int = 1
    rested_count: int = 1

    @property
    def factor(self) -> int:
        """Girth per reading: a width laid flat counts twice."""
        return FLAT_FACTOR if self.method == "flat" else 1

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

    def reading_variance(self, count: int) -> float:
        """Variance in mm² of a girth that was read so often by this round's method."""
        return (self.factor * BOOT_READING_MM) ** 2 / count

    def follows(self, earlier: MeasuredRound) -> bool:
        """True where its start is the earlier round's rested reading: same method, same value."""
        return (
            self.method == earlier.method
            and earlier.rested_mm is not None
            and abs(self.before_mm - earlier.rested_mm) < TIE
        )


@dataclass(frozen=True, slots=True)
class Kept:
    """The fraction kept after 24 h, conditioned, in a first round: normal.

    rounds, boots: what it stands on; other_rounds: those of the other boot of the pair.
    """

    mean: float
    sd: float
    rounds: int = 0
    boots: int = 0
    other_rounds: int = 0


def growth_mm(rounds: Sequence[MeasuredRound]) -> float:
    """How much the boot has grown at the tightest place over its read rounds.

    A rested reading is compared with the rested reading before it where both were taken by one
    method, else with its own round's start.
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


@dataclass(frozen=True, slots=True)
class Keeping:
    """How a round keeps, apart from its leather.

    bonus: added to the fraction kept after 24 h; factor: of what that gives.
    """

    bonus: float
    factor: float

    @classmethod
    def of(cls, hold_h: float, dry: bool, number: int) -> Keeping:
        """The number-th round of the boot's life (from 1), held so long, prepared dry or
        conditioned.
        """
        return cls(
            hold_bonus(hold_h), (book.DRY_FACTOR if dry else 1) * book.STIFFENING ** (number - 1)
        )

    def kept(self, kept_24h: float) -> float:
        """The share of the opening that stays."""
        return self.factor * min(book.KEPT_MOST, max(book.KEPT_LEAST, kept_24h + self.bonus))


@dataclass(frozen=True, slots=True)
class Belief:
    """What is thought of a boot: k, the fraction kept after 24 h; e, the error in mm of its last
    reading; f, so that growth as read less true growth is e + f. Jointly normal.

    kk … ff: variances and covariances of each two. rounds: that gave a kept fraction. surprise: the
    last round's gain less what was expected, in standard deviations; None where it told nothing.
    """

    k: float
    e: float
    f: float
    kk: float
    ke: float
    kf: float
    ee: float
    ef: float
    ff: float
    rounds: int = 0
    surprise: float | None = None

    @classmethod
    def at_first(cls, prior: Kept, first_variance: float = BOOT_READING_MM**2) -> Belief:
        """Before any round: the prior's k; first_variance: of the first reading, mm²."""
        v = first_variance
        return cls(prior.mean, 0.0, 0.0, prior.sd**2, 0.0, 0.0, v, -v, v)

    def kept(self, prior: Kept) -> Kept:
        """The kept fraction it gives, in the place of the prior it began with."""
        return replace(prior, mean=self.k, sd=math.sqrt(self.kk), rounds=prior.rounds + self.rounds)

    def read_anew(self, variance: float) -> Belief:
        """The last reading replaced by one of its own error, of that variance (mm²)."""
        return replace(self, e=0.0, ke=0.0, ef=0.0, ee=variance, surprise=None)

    def after(self, reach_mm: float, gain_mm: float, bonus: float, variance: float) -> Belief:
        """After a round that was read: reach_mm, the opening times what age and dryness leave of
        it; gain_mm, as read; bonus, of its hold; variance, of its rested reading.
        """
        z = reach_mm
        spread = z * z * self.kk - 2 * z * self.ke + self.ee + variance
        missed = gain_mm - z * (self.k + bonus) + self.e
        a, c, f = (z * self.kk - self.ke) / spread, variance / spread, (z * self.kf - self.ef)
        f /= spread
        return Belief(
            k=self.k + a * missed,
            e=c * missed,
            f=self.f + f * missed,
            kk=self.kk - spread * a * a,
            ke=-spread * a * c,
            kf=self.kf - spread * a * f,
            ee=variance - spread * c * c,
            ef=-spread * c * f,
            ff=self.ff - spread * f * f,
            rounds=self.rounds + 1,
            surprise=missed / math.sqrt(spread),
        )


def belief(prior: Kept, rounds: Sequence[MeasuredRound]) -> Belief:
    """The prior corrected by a boot's own rounds, oldest first; unread ones are lived, and say
    nothing.
    """
    first = rounds[0] if rounds else None
    now = Belief.at_first(prior, *([first.reading_variance(first.before_count)] if first else []))
    for number, turn in enumerate(rounds, start=1):
        if number > 1 and not turn.follows(rounds[number - 2]):
            now = now.read_anew(turn.reading_variance(turn.before_count))
        opening, gain = turn.opening_mm, turn.gain_mm
        if gain is None:
            continue
        variance = turn.reading_variance(turn.rested_count)
        if opening is None:
            now = now.read_anew(variance)
            continue
        keeping = Keeping.of(turn.hold_h, turn.dry, number)
        now = now.after(opening * keeping.factor, gain, keeping.bonus, variance)
    return now


def corrected(prior: Kept, rounds: Sequence[MeasuredRound]) -> Kept:
    """The prior's kept fraction corrected by this boot's own rounds."""
    return belief(prior, rounds).kept(prior)


@dataclass(frozen=True, slots=True)
class BootRecord:
    """What one boot's rounds alone say: kept after 24 h, and the variance of that."""

    kept: float
    variance: float


def boot_record(rounds: Sequence[MeasuredRound]) -> BootRecord | None:
    """What a boot's rounds say by themselves; None where none of them gives a kept fraction.

    Any prior gives the same: what it told is taken out again.
    """
    prior = Kept(0.0, 1.0)
    now = belief(prior, rounds)
    told = 1 / now.kk - 1
    return BootRecord(now.k / now.kk / told, 1 / told) if now.rounds and told > 0 else None


def with_other_boot(prior: Kept, rounds: Sequence[MeasuredRound]) -> Kept:
    """The prior of a boot, corrected by the rounds of the other one of its pair and leather."""
    record = boot_record(rounds)
    if record is None:
        return prior
    variance = prior.sd**2
    shared = max(variance - book.OWN_BOOT_VARIANCE, book.PAIR_SHARES_LEAST * variance)
    weight = shared / (variance + record.variance)
    return replace(
        prior,
        mean=prior.mean + weight * (record.kept - prior.mean),
        sd=math.sqrt(variance - weight * shared),
        other_rounds=sum(turn.kept is not None for turn in rounds),
    )


def class_kept(table_mean: float, pairs: Sequence[Sequence[BootRecord]]) -> Kept:
    """The class's kept fraction from its table value and the shop's boots: mean, and sd for a
    further boot.

    pairs: the records of one or two boots each, those of one pair together.
    """
    precision = 1 / book.CLASS_MEAN_VARIANCE
    weighted = table_mean * precision
    for pair in pairs:
        weights = [1 / (book.OWN_BOOT_VARIANCE + record.variance) for record in pair]
        value = sum(w * record.kept for w, record in zip(weights, pair, strict=True)) / sum(weights)
        weight = 1 / (book.PAIR_VARIANCE + 1 / sum(weights))
        precision += weight
        weighted += weight * value
    between = book.PAIR_VARIANCE + book.OWN_BOOT_VARIANCE
    return Kept(
        weighted / precision,
        math.sqrt(between + 1 / precision),
        boots=sum(len(pair) for pair in pairs),
    )
