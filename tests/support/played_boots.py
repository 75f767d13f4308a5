"""Invented boots played out on a bench: what it was told of their rounds beside what was seen."""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import dataclass, field, replace

from support.read_bench import (
    CLASS_VAR,
    LEATHERS,
    MOST,
    OWN_VAR,
    PAIR_VAR,
    TOLERANCE,
    Bench,
    Habits,
    base_case,
)

from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound, boot_record, class_kept
from fitcounter.fit.assessment.verdict import Case, judge


@dataclass
class Tally:
    """told, seen: summed P(≤ n) and boots done within n, n = 1, 2, 3; called, fits: of those
    called done.
    """

    boots: int = 0
    told: list[float] = field(default_factory=lambda: [0.0] * 3)
    seen: list[int] = field(default_factory=lambda: [0] * 3)
    told_done: float = 0.0
    told_fits: float = 0.0
    called: int = 0
    fits: int = 0

    def apart(self, rounds: int) -> float:
        """Told less seen P(≤ rounds)."""
        return (self.told[rounds - 1] - self.seen[rounds - 1]) / self.boots

    @property
    def fits_apart(self) -> float:
        return self.told_fits / self.told_done - self.fits / max(1, self.called)

    def __str__(self) -> str:
        rows = [
            f"n ≤ {n}: told {self.told[n - 1] / self.boots:.3f}, {self.apart(n):+.3f}"
            for n in (1, 2, 3)
        ]
        fits = f"fits {self.told_fits / self.told_done:.3f} / {self.fits / self.called:.3f}"
        return f"{self.boots} boots; {'; '.join(rows)}; {fits}"


def play(habits: Habits, boots: int, seed: int) -> Tally:
    """So many boots that are still short once what is behind them is behind them."""
    chance, tally = random.Random(seed), Tally()
    bases = itertools.cycle([base_case(leather) for leather in habits.leathers])
    while tally.boots < boots:
        _one_boot(next(bases), habits, chance, tally)
    return tally


def _one_boot(base: Case, habits: Habits, chance: random.Random, tally: Tally) -> None:
    shared = _pair_keeps(base, habits, chance)
    own, others = (shared + chance.gauss(0, math.sqrt(OWN_VAR)) for _ in range(2))
    doubt = chance.uniform(0, 4)
    bench = Bench(_needing(base, habits, chance, doubt), own, habits, chance)
    if habits.other:
        bench.case = replace(bench.case, other_rounds=_other(base, others, habits, chance))
    if not _lived(bench):
        return
    course = judge(bench.known).course
    if course is None:
        return
    tally.boots += 1
    for n in (1, 2, 3):
        tally.told[n - 1] += course.odds.within(n)
    done = course.odds.within(MOST)
    tally.told_done += done
    tally.told_fits += done * (course.odds.fits or 0.0)
    truly = bench.case.places[0].need_mm + chance.gauss(0, doubt)
    _see(bench, truly, tally)


def _pair_keeps(base: Case, habits: Habits, chance: random.Random) -> float:
    """What the boots of a pair keep on average."""
    if habits.mean is not None:
        return habits.draw(chance, habits.mean, math.sqrt(PAIR_VAR))
    mean = base.boot.leather.kept_mean
    return habits.draw(chance, mean, math.sqrt(CLASS_VAR + PAIR_VAR))


def play_shops(shops: int, boots: int, seed: int, *, finished_only: bool = False) -> Tally:
    """So many shops, each with one leather and a class mean of its own, told of so many new boots
    by what ten pairs have taught it.

    finished_only: as if stopped boots taught nothing. The same shops and pairs either way.
    """
    tally = Tally()
    for shop, leather in zip(range(shops), itertools.cycle(LEATHERS), strict=False):
        base, chance = base_case(leather), random.Random(f"{seed} {shop}")
        mean = chance.gauss(base.boot.leather.kept_mean, math.sqrt(CLASS_VAR))
        habits = Habits(mean=mean)
        learnt = replace(base, prior=_taught(base, habits, chance, finished_only))
        for _ in range(boots):
            _one_boot(learnt, habits, chance, tally)
    return tally


def _taught(base: Case, habits: Habits, chance: random.Random, finished_only: bool) -> Kept:
    """What ten pairs say of the class, each boot worked until it is done or a rule says stop."""
    pairs = []
    for _ in range(10):
        shared, pair = _pair_keeps(base, habits, chance), []
        for _ in range(2):
            k24 = shared + chance.gauss(0, math.sqrt(OWN_VAR))
            bench = Bench(_needing(base, habits, chance, 0.0), k24, habits, chance)
            while not bench.done and not bench.stopped() and bench.put_on():
                bench.take_off()
            record = boot_record(bench.rounds)
            if record is not None and (bench.done or not finished_only):
                pair.append(record)
        if pair:
            pairs.append(pair)
    return class_kept(base.boot.leather.kept_mean, pairs)


def _needing(base: Case, habits: Habits, chance: random.Random, doubt: float) -> Case:
    need = chance.uniform(*habits.needs)
    (place,) = base.places
    return replace(base, places=(place._replace(need_mm=need, need_u_mm=doubt),))


def _other(
    base: Case, k24: float, habits: Habits, chance: random.Random
) -> tuple[MeasuredRound, ...]:
    """The rounds of the other boot, which is as short as it may be."""
    other = Bench(
        _needing(base, replace(habits, needs=(20.0, 30.0)), chance, 0.0), k24, habits, chance
    )
    for _ in range(habits.other):
        if not other.done and other.put_on():
            other.take_off()
    return tuple(other.rounds)


def _lived(bench: Bench) -> bool:
    """The boot's own rounds before its odds are told; False where it is done before."""
    habits, chance = bench.habits, bench.chance
    for _ in range(habits.before):
        if bench.done or not bench.put_on():
            return False
        bench.take_off()
    if bench.done:
        return False
    return not habits.running or bench.put_on(
        chance.choice((48.0, 72.0, 168.0)), chance.random() < 0.2
    )


def _see(bench: Bench, truly: float, tally: Tally) -> None:
    """Goes on until it reads as done, or as long as the forecast looks ahead."""
    for number in range(1, MOST + 1):
        running = number == 1 and bench.habits.running
        if not running and not bench.put_on():
            return
        bench.take_off()
        if bench.done:
            for n in (1, 2, 3):
                tally.seen[n - 1] += number <= n
            tally.called += 1
            tally.fits += truly - bench.grown <= TOLERANCE
            return
