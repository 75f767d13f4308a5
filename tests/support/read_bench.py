"""A bench that goes by what it reads, and an invented boot on it.

The boot's truth stands here; the bench asks the program how far to open. Truths that are not the
program's model can be put in its place.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, replace

from support.assess_jobs import job, shaft

from fitcounter.fit.assessment.assess import case_of, read_job
from fitcounter.fit.assessment.girth_now import places_now, tightest
from fitcounter.fit.assessment.kept_fraction import MeasuredRound, growth_mm
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.no_further_round import STOPS
from fitcounter.fit.assessment.opening_ahead import next_opening
from fitcounter.fit.assessment.verdict import Case, judge, stand_at

READING, TOLERANCE, GIRTH, MOST = 1.5, 3.175, 340.0, 6
CLASS_VAR, PAIR_VAR, OWN_VAR = 0.0100, 0.0075, 0.0050
# Each is a fifth of the boots played; their limits lie so far apart that some never get there.
LEATHERS = ("supple-full-grain", "full-grain", "oiled", "nubuck", "goat")
# The share of an opening that stays: of k24, hold in hours, dry, number of the round, opening.
Truth = Callable[[float, float, bool, int, float], float]


def model(k24: float, hold_h: float, dry: bool, number: int, _: float) -> float:
    """As the program has it."""
    kept = max(0.05, min(0.95, k24 + 0.12 * math.log10(hold_h / 24)))
    return kept * (0.6 if dry else 1) * 0.95 ** (number - 1)


def less_of_small(k24: float, hold_h: float, dry: bool, number: int, opening: float) -> float:
    """Small openings spring back more: nine tenths of the model's share at 15 mm, half at 5."""
    return model(k24, hold_h, dry, number, opening) * (1 - math.exp(-opening / 7))


def gaussian(chance: random.Random, mean: float, sd: float) -> float:
    return chance.gauss(mean, sd)


def skewed(chance: random.Random, mean: float, sd: float) -> float:
    """Many boots a little over the mean, a few far under it: a gamma's mirror image."""
    shape = 4.0
    return mean + sd * (shape - chance.gammavariate(shape, 1.0)) / math.sqrt(shape)


@dataclass(frozen=True)
class Habits:
    """How a bench reads, and what is behind a boot when its odds are told.

    reads: once, as asked or twice; anew: before is read anew each round; before: its own rounds;
    other: those of the other boot; running: one is on the tree now; needs: mm, from and to. early:
    called done so many mm before the tolerance. truth, draw: what the boots do. leathers: of the
    boots, by turns. mean: of the class, where it is known.
    """

    reads: str = "as asked"
    flat: bool = False
    anew: bool = False
    before: int = 0
    other: int = 0
    running: bool = False
    needs: tuple[float, float] = (4.0, 30.0)
    early: float = 0.0
    truth: Truth = model
    draw: Callable[[random.Random, float, float], float] = gaussian
    leathers: tuple[str, ...] = LEATHERS
    mean: float | None = None


def base_case(leather: str) -> Case:
    """A boot of 340 mm with a zip and a backstay; its need is put in by each boot."""
    data = job(
        {
            "boot": shaft(("300", f"{GIRTH:g}")),
            "amounts": [{"height": "300", "amount": "10"}],
        },
        {
            "material": leather,
            "zip": {"band_mm": 30, "to_mm": 400},
            "rigid": [{"width_mm": 22, "to_mm": 400}],
        },
    )
    read = read_job(data, ("left",))
    return case_of(read, read.sides[0], HANDBOOK)


class Bench:
    """One boot on a bench of these habits. case: with its need; k24: what it truly keeps."""

    def __init__(self, case: Case, k24: float, habits: Habits, chance: random.Random) -> None:
        self.case, self.k24, self.habits, self.chance = case, k24, habits, chance
        self.factor = 2 if habits.flat else 1
        self.grown = 0.0
        self.rested = self._read()
        self.rounds: list[MeasuredRound] = []
        self.bounds = judge(case).limits

    def _read(self) -> float:
        """What the tape says now, once."""
        return (GIRTH + self.grown) / self.factor + self.chance.gauss(0, READING)

    @property
    def need(self) -> float:
        """Short by, as read."""
        return self.case.places[0].need_mm - growth_mm(self.rounds)

    @property
    def done(self) -> bool:
        return self.need <= TOLERANCE + self.habits.early

    def opening(self) -> float:
        """How far the program opens it next."""
        case = self.known
        worst = tightest(places_now(case.places, growth_mm(case.rounds)))
        return next_opening(stand_at(case, worst, self.bounds)).opening_mm

    @property
    def known(self) -> Case:
        return replace(self.case, rounds=tuple(self.rounds))

    def put_on(self, hold_h: float = 168.0, dry: bool = False) -> bool:
        """Opened as far as the program says; False where it says within tolerance."""
        wide = self.opening()
        if wide <= TOLERANCE:
            return False
        before = self._read() if self.habits.anew and self.rounds else self.rested
        method = "flat" if self.habits.flat else "outside"
        on_tree = before + wide / self.factor
        self.rounds.append(MeasuredRound(before, on_tree, None, method, hold_h, dry))
        return True

    def take_off(self) -> None:
        """Rested and read, once or twice as the habit is."""
        last, number = self.rounds[-1], len(self.rounds)
        opening = last.opening_mm or 0.0
        kept = self.habits.truth(self.k24, last.hold_h, last.dry, number, opening)
        self.grown += kept * opening
        self._settle(self._read(), 1)
        asked = abs(self.need - TOLERANCE) < 2 * READING * self.factor
        if self.habits.reads == "twice" or (self.habits.reads == "as asked" and asked):
            self._settle((self.rested + self._read()) / 2, 2)

    def _settle(self, rested: float, count: int) -> None:
        self.rested = rested
        self.rounds[-1] = replace(self.rounds[-1], rested_mm=rested, rested_count=count)

    def stopped(self) -> bool:
        """A stop rule of the program holds."""
        course = judge(self.known).course
        return course is not None and course.stop in STOPS
