"""How many further rounds there will be: a distribution by what the bench will read.

399 boots are followed whose kept fraction, errors of reading and luck at the tape are spread evenly
(radical inverses, Halton 1960); each opens as the bench would from what it reads, and carries a
weight: the chance that the bench still reads it as short. No boot is drawn at random. Lengths are
mm of girth; the model and its spreads are our own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from math import erfc
from statistics import NormalDist
from typing import NamedTuple

from fitcounter.fit.assessment.kept_fraction import Belief
from fitcounter.fit.assessment.opening_ahead import Opening, Stand
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leather import LEAST_LEATHER_MM
from fitcounter.fit.handbook.leg import BOOT_READING_MM, FLAT_FACTOR, TIE, TOLERANCE_MM

# Looked up a hundred thousand times a second.
LEAST_WEIGHT, LEAST_LUCK, MOST_ROUNDS = book.LEAST_WEIGHT, book.LEAST_LUCK, book.MOST_ROUNDS
KEPT_LEAST, KEPT_MOST = book.KEPT_LEAST, book.KEPT_MOST
LEAST_OPENING_MM = TOLERANCE_MM + TIE
_HALF_ROOT = math.sqrt(0.5)
_inverse = NormalDist().inv_cdf


@dataclass(frozen=True, slots=True)
class Odds:
    """How many further rounds.

    shares: probability of 0 … 6 rounds and of more, together 1; fits: probability that a boot
    called done truly fits, None where hardly any is called done.
    """

    shares: tuple[float, ...]
    fits: float | None = None

    def within(self, rounds: int) -> float:
        """Probability of done within that many further rounds (0 … 6)."""
        return sum(self.shares[: rounds + 1])

    @property
    def likely(self) -> int | None:
        """The most probable number, the smallest on a tie; None where more than 6 is."""
        number = self.shares.index(max(self.shares))
        return number if number <= book.MOST_ROUNDS else None

    @property
    def eight_in_ten(self) -> int | None:
        """The smallest number that is enough in eight cases of ten; None beyond 6."""
        return next(
            (n for n in range(book.MOST_ROUNDS + 1) if self.within(n) >= book.EIGHT_IN_TEN), None
        )


@cache
def points() -> tuple[tuple[float, float, tuple[float, ...]], ...]:
    """For each of 399 boots: normal steps of kept fraction and error, and its luck at each reading
    (0 to 1).
    """
    return tuple(_point(number) for number in range(1, book.POINTS + 1))


def _point(number: int) -> tuple[float, float, tuple[float, ...]]:
    first, second, *luck = (radical_inverse(number, base) for base in book.BASES)
    return _inverse(first), _inverse(second), tuple(luck)


def radical_inverse(number: int, base: int) -> float:
    """The number's digits in a base, mirrored at the point: 6 in base 2 is 110, so .011 or .375."""
    value, place = 0.0, 1.0
    while number:
        number, digit = divmod(number, base)
        place /= base
        value += digit * place
    return value


def odds(stand: Stand, opening: Opening, *, fits: bool = True) -> Odds:
    """The distribution of further rounds until the bench reads what is left as within tolerance.

    opening: the next one, as `opening_ahead.next_opening` gives it; fits: False where only the
    rounds are asked for. Kept for the last few that were asked, because one boot is asked about
    with one thing changed again and again.
    """
    if stand.need_mm <= TOLERANCE_MM + TIE:
        return Odds((1.0, *(0.0,) * (book.MOST_ROUNDS + 1)))
    if stand.running is None and opening.opening_mm <= TOLERANCE_MM + TIE:
        return Odds((*(0.0,) * (book.MOST_ROUNDS + 1), 1.0))
    return _followed(stand, opening.opening_mm, fits)


@lru_cache(maxsize=64)
def _followed(stand: Stand, first_mm: float, fits: bool) -> Odds:
    """Every boot of `points` followed from its first opening."""
    bench, doubt = _Bench(stand, first_mm), _Doubt.of(stand.known, stand.need_u_mm)
    tally = _Tally(doubt.fit_mm, fits)
    for boot in bench.first_round(stand.known, doubt, tally):
        bench.follow(boot, tally)
    called = sum(tally.shares) / book.POINTS
    return Odds(
        (*(share / book.POINTS for share in tally.shares), max(0.0, 1 - called)),
        tally.fits / book.POINTS / called if fits and called > book.HARDLY_ANY else None,
    )


class _Doubt(NamedTuple):
    """What is not known of a boot, as steps of two independent normal numbers; fit_mm: what then is
    left of the doubt whether it fits.
    """

    k_first: float
    e_first: float
    e_second: float
    f_first: float
    f_second: float
    fit_mm: float

    @classmethod
    def of(cls, known: Belief, need_u_mm: float) -> _Doubt:
        k_first = math.sqrt(known.kk)
        e_first, f_first = known.ke / k_first, known.kf / k_first
        e_second = math.sqrt(max(0.0, known.ee - e_first**2))
        f_second = (known.ef - e_first * f_first) / e_second if e_second > 0 else 0.0
        left = max(0.0, known.ff - f_first**2 - f_second**2)
        return cls(k_first, e_first, e_second, f_first, f_second, math.sqrt(need_u_mm**2 + left))


class _Tally:
    """What became of the boots: shares, by number of rounds, that were called done; fits, those of
    them that truly fit, where that is asked for. fit_mm: the doubt of that.
    """

    def __init__(self, fit_mm: float, asked: bool) -> None:
        self.shares, self.fits = [0.0] * (MOST_ROUNDS + 1), 0.0
        self.fit_mm, self.asked = fit_mm, asked

    def called(self, weight: float, room_mm: float) -> None:
        """So much of a boot is called done, with so much room over what it must have."""
        if self.fit_mm > TIE:
            self.fits += weight * 0.5 * erfc(-room_mm / self.fit_mm * _HALF_ROOT)
        elif room_mm >= -TIE:
            self.fits += weight


# A boot that is read as short after its first round: its true fraction, the error of its last
# reading and that of its first beside it, the chance of it, grown truly and as read, what is
# thought of its fraction and error, its luck.
_Boot = tuple[float, float, float, float, float, float, float, float, tuple[float, ...]]


class _Learnt(NamedTuple):
    """What the first round teaches, apart from what is read: gains of k and e, and what is left of
    their (co)variances; reach: the opening times what age and dryness leave of it.
    """

    reach: float
    k_gain: float
    e_gain: float
    kk: float
    ke: float
    ee: float

    @classmethod
    def of(cls, reach: float, known: Belief, variance: float) -> _Learnt:
        kk, ke, ee = known.kk, known.ke, known.ee
        spread = reach * reach * kk - 2 * reach * ke + ee + variance
        k_gain, e_gain = (reach * kk - ke) / spread, variance / spread
        return cls(
            reach,
            k_gain,
            e_gain,
            kk - spread * k_gain * k_gain,
            -spread * k_gain * e_gain,
            variance - spread * e_gain * e_gain,
        )


class _Bench:
    """A bench that goes on with a boot by what it reads: its limits, and what it knows at first.

    Its loops are written out, because they are gone through a hundred thousand times a second.
    """

    def __init__(self, stand: Stand, first_mm: float) -> None:
        self.need, self.first = stand.need_mm, first_mm
        self.sigma = BOOT_READING_MM * _HALF_ROOT * (FLAT_FACTOR if stand.flat else 1)
        self.keeping, *later = [(one.bonus, one.factor) for one in stand.keepings(MOST_ROUNDS)]
        self.later = [(number, *keeping) for number, keeping in enumerate(later, 2)]
        self.learnt = _Learnt.of(self.keeping[1] * first_mm, stand.known, self.sigma**2)
        leather = stand.leather_at(stand.girth_mm)
        limits = [
            (stand.round_strain, leather),
            (stand.seam_strain, _or_else(stand.seam_leather_mm, leather)),
        ]
        if stand.zip_strain is not None:
            limits.append((stand.zip_strain, _or_else(stand.zip_leather_mm, leather)))
        self.limits = _least_lines(limits)
        ceiling = stand.first_mm + stand.ceiling_strain * stand.leather_mm
        most = ceiling if stand.tree_mm is None else min(ceiling, stand.tree_mm)
        self.room = most - stand.girth_mm

    def opening(self, read: float, kept: float) -> float:
        """How far the next round opens once the boot reads so much wider, if it is thought to keep
        that share; 0 or less where it does not.
        """
        room, most = self.room - read, (self.need - read) / kept
        if room < most:
            most = room
        for strain, leather in self.limits:
            leather += read
            allowed = strain * (leather if leather > LEAST_LEATHER_MM else LEAST_LEATHER_MM)
            if allowed < most:
                most = allowed
        return most

    def first_round(self, known: Belief, doubt: _Doubt, tally: _Tally) -> Iterator[_Boot]:
        """The first round, which opens every boot alike: those that are still read as short."""
        (bonus, factor), sigma, mean_k, mean_e = self.keeping, self.sigma, known.k, known.e
        reach, k_gain, e_gain, *_ = self.learnt
        short_of, opened = self.need - TOLERANCE_MM, factor * self.first
        expected, shares, asked = reach * (mean_k + bonus) - mean_e, tally.shares, tally.asked
        k_first, e_first, e_second, f_first, f_second, _ = doubt
        for first, second, luck in points():
            true_k = mean_k + k_first * first
            error = mean_e + e_first * first + e_second * second
            extra = known.f + f_first * first + f_second * second
            kept = true_k + bonus
            grown = opened * (
                KEPT_LEAST if kept < KEPT_LEAST else KEPT_MOST if kept > KEPT_MOST else kept
            )
            room = grown - short_of - error
            short = 0.5 * erfc(room / sigma * _HALF_ROOT)
            shares[1] += 1 - short
            if asked:
                tally.called(1 - short, room - extra)
            if short < LEAST_WEIGHT:
                continue
            chance = luck[0] * short
            read = grown + sigma * _inverse(chance if chance > LEAST_LUCK else LEAST_LUCK) - error
            missed = read - expected
            k, e = mean_k + k_gain * missed, e_gain * missed
            yield true_k, error, extra, short, grown, read, k, e, luck

    def follow(self, boot: _Boot, tally: _Tally) -> None:
        """One boot from its second round on."""
        true_k, error, extra, weight, grown, read, k, e, luck = boot
        sigma, lost, opening_of = self.sigma, self.need - TOLERANCE_MM + error, self.opening
        variance, (_, _, _, kk, ke, ee), shares = sigma * sigma, self.learnt, tally.shares
        asked = tally.asked
        # the last round breaks, as each that leaves no boot short: the loop never runs out
        for number, bonus, factor in self.later:  # pragma: no branch
            kept = k + bonus
            kept = KEPT_LEAST if kept < KEPT_LEAST else KEPT_MOST if kept > KEPT_MOST else kept
            opening = opening_of(read, factor * kept)
            if opening <= LEAST_OPENING_MM:
                break
            kept, z = true_k + bonus, factor * opening
            grown += z * (
                KEPT_LEAST if kept < KEPT_LEAST else KEPT_MOST if kept > KEPT_MOST else kept
            )
            short = 0.5 * erfc((grown - lost) / sigma * _HALF_ROOT)
            shares[number] += weight * (1 - short)
            if asked:
                tally.called(weight * (1 - short), grown - lost - extra)
            weight *= short
            if weight < LEAST_WEIGHT or number == MOST_ROUNDS:
                break
            spread = z * z * kk - 2 * z * ke + ee + variance
            k_gain, e_gain = (z * kk - ke) / spread, variance / spread
            before, chance = read, luck[number - 1] * short
            read = grown + sigma * _inverse(chance if chance > LEAST_LUCK else LEAST_LUCK) - error
            missed = read - before - z * (k + bonus) + e
            k, e, kk = k + k_gain * missed, e_gain * missed, kk - spread * k_gain * k_gain
            ke, ee = -spread * k_gain * e_gain, variance - spread * e_gain * e_gain


def _or_else(mm: float | None, other_mm: float) -> float:
    return other_mm if mm is None else mm


def _least_lines(limits: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The limits that can bind: without those that lie over another one at every girth."""
    least: list[tuple[float, float]] = []
    for strain, leather_mm in sorted(limits):
        if not any(leather_mm >= other_mm for _, other_mm in least):
            least.append((strain, leather_mm))
    return least
