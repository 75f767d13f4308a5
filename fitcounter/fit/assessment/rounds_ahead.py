"""How many further rounds there will be: a distribution by what the bench will read.

399 boots are followed whose kept fraction, errors of reading and luck at the tape are spread evenly
(radical inverses, Halton 1960); each opens as the bench would from what it reads, and carries a
weight: the chance that the bench still reads it as short. No boot is drawn at random. Lengths are
mm of girth; the model and its spreads are our own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache
from statistics import NormalDist

from fitcounter.fit.assessment.forecast import Opening, Stand
from fitcounter.fit.assessment.kept import Belief
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leather import LEAST_LEATHER_MM
from fitcounter.fit.handbook.leg import BOOT_READING_MM, FLAT_FACTOR, TIE, TOLERANCE_MM

_HALF_ROOT = math.sqrt(0.5)
_inverse = NormalDist().inv_cdf
LAST_ASKED = 64  # forecasts of a boot and its changes; one answer asks for sixteen or so


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


def odds(stand: Stand, opening: Opening) -> Odds:
    """The distribution of further rounds until the bench reads what is left as within tolerance.

    opening: the next one, as `forecast.next_opening` gives it. Kept for the last few that were
    asked, because one boot is asked about with one thing changed again and again.
    """
    if stand.need_mm <= TOLERANCE_MM + TIE:
        return Odds((1.0, *(0.0,) * (book.MOST_ROUNDS + 1)))
    if stand.running is None and opening.opening_mm <= TOLERANCE_MM + TIE:
        return Odds((*(0.0,) * (book.MOST_ROUNDS + 1), 1.0))
    return _followed(stand, opening.opening_mm)


@lru_cache(maxsize=LAST_ASKED)
def _followed(stand: Stand, first_mm: float) -> Odds:
    """Every boot of `points` followed from its first opening."""
    bench, doubt = _Bench(stand, first_mm), _Doubt.of(stand.known, stand.need_u_mm)
    shares, fits = [0.0] * (book.MOST_ROUNDS + 1), 0.0
    for first, second, luck in points():
        fits += bench.follow(doubt.boot(stand.known, first, second), luck, shares, doubt.fit_mm)
    called = sum(shares) / book.POINTS
    return Odds(
        (*(share / book.POINTS for share in shares), max(0.0, 1 - called)),
        fits / book.POINTS / called if called > book.HARDLY_ANY else None,
    )


@dataclass(frozen=True, slots=True)
class _Doubt:
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

    def boot(self, known: Belief, first: float, second: float) -> tuple[float, float, float]:
        """True k, error of the last reading, and f, at so many steps."""
        return (
            known.k + self.k_first * first,
            known.e + self.e_first * first + self.e_second * second,
            known.f + self.f_first * first + self.f_second * second,
        )


@dataclass(frozen=True, slots=True)
class _Learnt:
    """What a round teaches, apart from what is read: gains of k and e, and what is left of their
    (co)variances; reach: the opening times what age and dryness leave of it.
    """

    reach: float
    k_gain: float
    e_gain: float
    kk: float
    ke: float
    ee: float

    @classmethod
    def of(cls, reach: float, kk: float, ke: float, ee: float, variance: float) -> _Learnt:
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
    """A bench that goes on with a boot by what it reads: its limits, and what it knows at first."""

    def __init__(self, stand: Stand, first_mm: float) -> None:
        self.need, self.first, known = stand.need_mm, first_mm, stand.known
        self.known_k, self.known_e = known.k, known.e
        self.sigma = BOOT_READING_MM * _HALF_ROOT * (FLAT_FACTOR if stand.flat else 1)
        self.keepings = [(one.bonus, one.factor) for one in stand.keepings(book.MOST_ROUNDS)]
        self.learnt = _Learnt.of(
            self.keepings[0][1] * first_mm, known.kk, known.ke, known.ee, self.sigma**2
        )
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

    def opening(self, read_mm: float, kept: float) -> float:
        """How far the next round opens once the boot reads so much wider, if it is thought to keep
        that share; 0 or less where it does not.
        """
        most = (self.need - read_mm) / kept
        if self.room - read_mm < most:
            most = self.room - read_mm
        for strain, leather_mm in self.limits:
            allowed = strain * max(LEAST_LEATHER_MM, leather_mm + read_mm)
            if allowed < most:
                most = allowed
        return most

    def follow(
        self,
        boot: tuple[float, float, float],
        luck: tuple[float, ...],
        shares: list[float],
        fit_mm: float,
    ) -> float:
        """One boot round by round: adds to the shares, by number of rounds, where it is called
        done; gives the chance that it is called done and truly fits. fit_mm: doubt of that.
        """
        true_k, error, extra = boot
        sigma, lost, k, e = self.sigma, self.need - TOLERANCE_MM + error, self.known_k, self.known_e
        weight, grown, read, opening, fits = 1.0, 0.0, 0.0, self.first, 0.0
        learnt = self.learnt
        for number, (bonus, factor) in enumerate(self.keepings, start=1):
            if number > 1:
                opening = self.opening(read, factor * _clamped(k + bonus))
                if opening <= TOLERANCE_MM + TIE:
                    break
            grown += factor * _clamped(true_k + bonus) * opening
            short = 0.5 * math.erfc((grown - lost) / sigma * _HALF_ROOT)
            done = weight * (1 - short)
            shares[number] += done
            if done > 0:
                fits += done * _fit(grown - lost - extra, fit_mm)
            weight *= short
            if weight < book.LEAST_WEIGHT or number == book.MOST_ROUNDS:
                break
            if number > 1:
                learnt = _Learnt.of(
                    factor * opening, learnt.kk, learnt.ke, learnt.ee, sigma * sigma
                )
            before = read
            read = grown + sigma * _inverse(max(book.LEAST_LUCK, luck[number - 1] * short)) - error
            missed = read - before - learnt.reach * (k + bonus) + e
            k, e = k + learnt.k_gain * missed, learnt.e_gain * missed
        return fits


def _or_else(mm: float | None, other_mm: float) -> float:
    return other_mm if mm is None else mm


def _least_lines(limits: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The limits that can bind: without those that lie over another one at every girth."""
    least: list[tuple[float, float]] = []
    for strain, leather_mm in sorted(limits):
        if not any(leather_mm >= other_mm for _, other_mm in least):
            least.append((strain, leather_mm))
    return least


def _fit(room_mm: float, doubt_mm: float) -> float:
    """The probability that a boot with so much room over what it must have truly fits."""
    if doubt_mm <= TIE:
        return 1.0 if room_mm >= -TIE else 0.0
    return 0.5 * math.erfc(-room_mm / doubt_mm * _HALF_ROOT)


def _clamped(kept: float) -> float:
    if kept < book.KEPT_LEAST:
        return book.KEPT_LEAST
    return min(kept, book.KEPT_MOST)
