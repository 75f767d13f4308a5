"""The job: what was read and asked of a pair of boots, all that its answer rests on.

Two ways lead to one: `job_json.read_job` from JSON, and the desk from its stored rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound
from fitcounter.fit.handbook import leg as leg_book
from fitcounter.fit.repeats import settle
from fitcounter.fit.tape import Length

SIDES = ("left", "right")
TARGETS = ("leg", "gap", "amount")


@dataclass(frozen=True, slots=True)
class LegTerms:
    """How the legs were read. on_block: with the heel on a block of the boot's rise."""

    posture: str
    over: str
    layer_mm: float
    time: str
    marked: bool
    on_block: bool


@dataclass(frozen=True, slots=True)
class Ease:
    """Room asked for over the leg: a named share of its girth, or an amount in mm."""

    word: str | None
    mm: float

    @property
    def share(self) -> float:
        return leg_book.EASE[self.word] if self.word else 0.0


def settled(readings: Sequence[Length]) -> Fraction:
    """The one value in mm of one or more readings."""
    return readings[0].mm if len(readings) == 1 else settle([length.mm for length in readings])


def _settled_mm(readings: Sequence[Length]) -> float:
    return readings[0].float_mm if len(readings) == 1 else float(settled(readings))


class Reading(NamedTuple):
    """One girth of leg or boot at a height, as often as it was read; made by Reading.of.

    station: None for a boot or a further height. girth_mm: the one value of its readings, as read.
    """

    station: str | None
    height: Length
    girths: tuple[Length, ...]
    girth_mm: float

    @classmethod
    def of(cls, station: str | None, height: Length, girths: tuple[Length, ...]) -> Reading:
        return cls(station, height, girths, _settled_mm(girths))


@dataclass(frozen=True, slots=True)
class FootReading:
    """A girth of the foot: ball, instep or heel measure. It belongs to no height of the shaft."""

    station: str
    girths: tuple[Length, ...]

    @property
    def girth_mm(self) -> float:
        return _settled_mm(self.girths)


@dataclass(frozen=True, slots=True)
class Asked:
    """A gap at the zip, as often as it was read, or one amount asked for, at a height above the
    heel seat.
    """

    height: Length
    readings: tuple[Length, ...]

    @property
    def amount_mm(self) -> float:
        """The one value of its readings, as read."""
        return _settled_mm(self.readings)


@dataclass(frozen=True, slots=True)
class Side:
    """One leg and its boot. boot: the job's, with what differs on this side."""

    name: str
    target: str
    leg: tuple[Reading, ...]
    foot: tuple[FootReading, ...]
    shaft: tuple[Reading, ...]
    gaps: tuple[Asked, ...]
    amounts: tuple[Asked, ...]
    heel: Length | None
    findings: tuple[str, ...]
    rounds: tuple[MeasuredRound, ...]
    boot: Boot


@dataclass(frozen=True, slots=True)
class Job:
    """All that the answer rests on.

    sides: left and right, in that order. records: leather code -> the shop's own kept fraction.
    """

    unit: str
    leg: LegTerms
    ease: Ease
    dial: str
    sides: tuple[Side, ...]
    hold_h: float
    max_rounds: int
    tree_max_mm: float | None
    records: Mapping[str, Kept] = field(hash=False)  # so that an answer can be kept by its job
