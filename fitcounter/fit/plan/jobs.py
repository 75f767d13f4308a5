"""What goes into the bench plan and what comes out of it: jobs, trees taken for other reasons, each
boot's days.

A job is one boot; a pair is ready when both are. Days are the shop's local dates. No published
standard: the shop's own rule.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from fitcounter.errors import BadInput, message
from fitcounter.fit.handbook import bench as book
from fitcounter.fit.handbook.rounds import HOLD_H
from fitcounter.fit.handbook.shop import FINISHING_DAYS, PREPARING_DAYS
from fitcounter.fit.plan.days import OpenDays

Side = Literal["left", "right"]
StepKind = Literal["prepare", "on", "off", "read", "finish", "shaper"]


@dataclass(frozen=True, slots=True)
class OnTree:
    """A round that is running.

    tree: its id. since: the day it went on. due_off: the day its hold is over.
    """

    tree: str
    since: date
    due_off: date


@dataclass(frozen=True, slots=True)
class Resting:
    """Off the tree and not read yet. until: the first day on which the rested reading counts."""

    until: date


@dataclass(frozen=True, slots=True)
class BenchJob:
    """One boot's work at the bench.

    id: the item. pair: what both boots of a pair share (a single boot has its own). arrival:
    smaller came first.
    trees: ids of the trees that serve it, best first. rounds_likely, rounds_promise: further
    rounds, a running or unread one included, as `forecast` gives them (likely, eight in ten); None
    means more than it counts, and max_rounds stands in.
    hold_h: 1-720. rest_days: 1-14. preparing_days, finishing_days: 0-14 (0: done already, or not
    done at all).
    promised: the day said to the customer. not_before: the boots are still at home until then.
    pickup: an agreed pickup day against which the last hold is set late. now: on a tree, resting,
    or neither. rounds_done: read rounds, for numbering. Raises BadInput for a figure outside its
    range.
    """

    id: str
    pair: str
    side: Side
    arrival: int
    trees: tuple[str, ...]
    rounds_likely: int | None
    rounds_promise: int | None
    max_rounds: int
    hold_h: float = HOLD_H
    rest_days: int = 1
    preparing_days: int = PREPARING_DAYS
    finishing_days: int = FINISHING_DAYS
    promised: date | None = None
    not_before: date | None = None
    pickup: date | None = None
    now: OnTree | Resting | None = None
    rounds_done: int = 0

    def __post_init__(self) -> None:
        self._within("hold_h", 1, book.MOST_HOLD_H, "hours")
        self._within("rest_days", 1, book.MOST_REST_DAYS, "days")
        self._within("preparing_days", 0, book.MOST_WORK_DAYS, "days")
        self._within("finishing_days", 0, book.MOST_WORK_DAYS, "days")
        for field in ("rounds_likely", "rounds_promise", "max_rounds", "rounds_done"):
            self._within(field, 0, book.MOST_ROUNDS, "rounds")

    def _within(self, field: str, least: int, most: int, unit: str) -> None:
        value = getattr(self, field)
        if value is not None and not least <= value <= most:
            raise BadInput(
                message("Type {least} to {most} {unit}.", least=least, most=most, unit=unit),
                field=field,
                typed=str(value),
            )

    @property
    def rounds_planned(self) -> int:
        """Rounds the plan reserves trees for: eight in ten, or max_rounds; at least the one that is
        not read yet.
        """
        rounds = self.max_rounds if self.rounds_promise is None else self.rounds_promise
        return max(rounds, 0 if self.now is None else 1)

    @property
    def rounds_hoped(self) -> int:
        """The likely rounds, never more than are planned."""
        likely = self.rounds_planned if self.rounds_likely is None else self.rounds_likely
        return max(min(likely, self.rounds_planned), 0 if self.now is None else 1)


@dataclass(frozen=True, slots=True)
class Booking:
    """A tree that is taken for another reason: lent, in repair, kept free.

    first: the first day; until: the day it is back.
    """

    tree: str
    first: date
    until: date


@dataclass(frozen=True, slots=True)
class TreeDays:
    """What the bench has to give: trees, on days.

    trees: ids of those in use. days: when the bench works. bookings: trees taken for other reasons.
    """

    trees: Sequence[str]
    days: OpenDays
    bookings: Sequence[Booking] = ()


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One thing to do on one day.

    tree: for on and off. round: counted over the boot's life here, for on, off and read.
    """

    kind: StepKind
    day: date
    tree: str | None = None
    round: int | None = None


@dataclass(frozen=True, slots=True)
class Hold:
    """A tree reserved for one round: [on, off).

    hold_h: how long it really is, closed days included (24 h or more).
    """

    job: str
    tree: str
    round: int
    on: date
    off: date
    hold_h: int


@dataclass(frozen=True, slots=True)
class BootPlan:
    """One boot's days.

    hope: ready if the likely rounds do; ready: if eight in ten do. waits_days: days it waits for a
    tree.
    """

    job: str
    pair: str
    side: Side
    steps: tuple[PlanStep, ...]
    holds: tuple[Hold, ...]
    hope: date
    ready: date
    waits_days: int


@dataclass(frozen=True, slots=True)
class PairPlan:
    """A pair's days: the later of its boots.

    late_days: days past the promised one, 0 without a promise.
    """

    pair: str
    hope: date
    ready: date
    promised: date | None
    late_days: int


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole bench.

    objective: over pairs, ready days (numbers from today) + 10 × days late, before last holds are
    set late for a pickup.
    unplanned: (job id, one sentence why). A pair with an unplanned boot has no PairPlan.
    """

    today: date
    boots: tuple[BootPlan, ...]
    pairs: tuple[PairPlan, ...]
    unplanned: tuple[tuple[str, str], ...]
    objective: int

    def boot(self, job: str) -> BootPlan | None:
        """This boot's days, or None where it is not planned."""
        return next((boot for boot in self.boots if boot.job == job), None)

    def pair(self, pair: str) -> PairPlan | None:
        """This pair's days, or None where a boot of it is not planned."""
        return next((entry for entry in self.pairs if entry.pair == pair), None)

    def holds(self) -> tuple[Hold, ...]:
        """Every reserved hold, running ones included, by day and tree."""
        return tuple(
            sorted(
                (hold for boot in self.boots for hold in boot.holds),
                key=lambda hold: (hold.on, hold.tree),
            )
        )
