"""Which tree serves a round: what each would do at every height of the shaft, and for each that
will not do, why.

A tree does not open at one height only. Lengths are millimetres of inside girth; heights above the
inside heel seat. No published standard: the limits are the shop's own (`handbook_shop`,
`materials`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from fitcounter.errors import message
from fitcounter.fit.assessment.profile import shared_heights
from fitcounter.fit.handbook import shop as book
from fitcounter.fit.handbook.leg import TIE
from fitcounter.fit.tape import say_length, say_short_by
from fitcounter.fit.trees.calibration import CalibrationPoint, Girths, Scale, girths_of, pads_of
from fitcounter.fit.trees.limits import AtHeight, Wanted, too_much


@dataclass(frozen=True, slots=True)
class Tree:
    """A tree of the shop, usable from its label, side and size.

    closed_mm, open_mm: its one girth closed and fully open, where it is fullest, if known. scale:
    how it counts its setting, if known. points: all its readings. shift_most_mm: how far it may be
    set higher or lower.
    """

    label: str
    side: Literal["left", "right", "either"]
    size: Literal["S", "M", "L"] | None
    closed_mm: float | None = None
    open_mm: float | None = None
    scale: Scale | None = None
    points: tuple[CalibrationPoint, ...] = ()
    state: Literal["in use", "in repair", "retired"] = "in use"
    shift_most_mm: float = 0.0

    def shifts_mm(self, unit: str) -> tuple[float, ...]:
        """How much higher it may be set, lower where negative: from 0 outwards, up before down, in
        half inches or in centimetres.
        """
        step = book.SHIFT_STEP_INCH_MM if unit == "in" else book.SHIFT_STEP_MM
        steps = math.floor(min(self.shift_most_mm, book.SHIFT_MOST_MM) / step + TIE)
        return (0.0, *(way * n * step for n in range(1, steps + 1) for way in (1, -1)))


@dataclass(frozen=True, slots=True)
class Choice:
    """A tree that may serve. share, setting: where it is to be turned (setting where its scale is
    known); pads: which to put on; shift_mm: how much higher to set it, lower where negative.

    heights: its opening all along the shaft. worst_looseness_mm, worst_at_mm: how loose it leaves
    the boot where it does most (0 or more; None where no height counts). room_left_mm: what it
    could still open at the asked height. All None or empty, and a note, while not measured.
    """

    label: str
    pads: str = ""
    share: float | None = None
    setting: float | None = None
    heights: tuple[AtHeight, ...] = ()
    worst_looseness_mm: float | None = None
    worst_at_mm: float | None = None
    room_left_mm: float | None = None
    note: str = ""
    shift_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Rejected:
    """A tree that will not do, and one sentence why."""

    label: str
    sentence: str


def rank_trees(
    trees: Iterable[Tree], wanted: Wanted
) -> tuple[tuple[Choice, ...], tuple[Rejected, ...]]:
    """Every tree either ranked or rejected: smallest worst looseness first, then most room left;
    not measured ones last.

    A tree measured with several sets of pads, or that may sit higher or lower, is ranked as it
    serves best. Raises BadInput when the asked height lies outside the boot's readings.
    """
    wanted.boot.at(wanted.at_mm)
    choices: list[Choice] = []
    rejected: list[Rejected] = []
    for tree in trees:
        answer = _answer(tree, wanted)
        if isinstance(answer, Choice):
            choices.append(answer)
        else:
            rejected.append(answer)
    return tuple(sorted(choices, key=_rank)), tuple(rejected)


def _rank(choice: Choice) -> tuple[bool, float, float, float, bool]:
    """Least loose, most room, the smaller shift, then up; lengths to within a float's error."""
    loose, room = choice.worst_looseness_mm or 0.0, choice.room_left_mm or 0.0
    shift = choice.shift_mm
    return bool(choice.note), _to_ties(loose), -_to_ties(room), abs(shift), shift < 0


def _to_ties(mm: float) -> float:
    """Lengths that differ by less than a float's error are equal."""
    return round(mm / TIE) * TIE


def _answer(tree: Tree, wanted: Wanted) -> Choice | Rejected:
    """One tree, tried with every set of pads it was measured with and wherever it may sit."""
    if sentence := _out_of_question(tree, wanted):
        return Rejected(tree.label, sentence)
    measured = [
        (pads, girths)
        for pads in pads_of(tree.points)
        if (girths := girths_of(tree.points, pads)) is not None
    ]
    if not measured:
        return _not_measured(tree, wanted)
    tried = [
        _tried(tree, pads, girths.shifted(shift), wanted, shift)
        for pads, girths in measured
        for shift in tree.shifts_mm(wanted.unit)
        if not shift or girths.shifted(shift).closed.covers(wanted.at_mm)
    ]
    return min(
        (answer for answer in tried if isinstance(answer, Choice)), key=_rank, default=tried[0]
    )


def _out_of_question(tree: Tree, wanted: Wanted) -> str:
    """Why a tree cannot be had at all, "" where it can."""
    if tree.side not in (wanted.side, "either"):
        if tree.side == "left":
            return message("Made for left boots.")
        return message("Made for right boots.")
    if tree.state != "in use":
        return message("In repair.") if tree.state == "in repair" else message("Retired.")
    if tree.label in wanted.busy:
        return message("Booked for those days.")
    return ""


def _not_measured(tree: Tree, wanted: Wanted) -> Choice | Rejected:
    """A tree known by size alone: only a girth past the whole boot, or under the wanted one, shows
    that it will not do.
    """
    if tree.closed_mm is not None and tree.closed_mm > max(wanted.boot.girths_mm):
        closed = say_length(tree.closed_mm, wanted.unit)
        return Rejected(tree.label, message("Too big for this boot: {girth} closed.", girth=closed))
    if tree.open_mm is not None and tree.open_mm < wanted.girth_mm - TIE:
        return Rejected(tree.label, _stops_short(wanted.girth_mm - tree.open_mm, wanted))
    return Choice(tree.label, note=message("not measured yet"))


def _tried(
    tree: Tree, pads: str, girths: Girths, wanted: Wanted, shift_mm: float
) -> Choice | Rejected:
    """A measured tree, set so high, opened to the wanted girth at the asked height. girths: as it
    sits.
    """
    low, high = girths.span
    if not low <= wanted.at_mm <= high:
        return Choice(
            tree.label,
            pads,
            note=message(
                "not measured at {height} yet", height=say_length(wanted.at_mm, wanted.unit)
            ),
        )
    heights = sorted({*shared_heights(wanted.boot, girths.closed), wanted.at_mm})
    if sentence := _does_not_go_in(girths, heights, wanted) or _does_not_reach(girths, wanted):
        return Rejected(tree.label, sentence)
    closed, most = girths.closed.at(wanted.at_mm), girths.open.at(wanted.at_mm)
    share = min(1.0, max(0.0, (wanted.girth_mm - closed) / max(most - closed, TIE)))
    effects = tuple(_effect(height, girths.at(height, share), wanted) for height in heights)
    if sentence := too_much(effects, wanted):
        return Rejected(tree.label, sentence)
    loosest = max(
        (
            (effect.looseness_mm, effect.height_mm)
            for effect in effects
            if effect.looseness_mm is not None
        ),
        default=None,
    )
    return Choice(
        label=tree.label,
        pads=pads,
        share=share,
        setting=None if tree.scale is None else tree.scale.setting(share),
        heights=effects,
        worst_looseness_mm=max(0.0, loosest[0]) if loosest else 0.0,
        worst_at_mm=loosest[1] if loosest else None,
        room_left_mm=most - wanted.girth_mm,
        shift_mm=shift_mm,
    )


def _does_not_go_in(girths: Girths, heights: Iterable[float], wanted: Wanted) -> str:
    excess, height = max(
        (girths.closed.at(height) - wanted.boot.at(height), height) for height in heights
    )
    if excess <= TIE:
        return ""
    return message(
        "Too big for this boot: closed, {length} over at {height}.",
        length=say_short_by(excess, wanted.unit),
        height=say_length(height, wanted.unit),
    )


def _does_not_reach(girths: Girths, wanted: Wanted) -> str:
    missing = wanted.girth_mm - girths.open.at(wanted.at_mm)
    if missing <= TIE:
        return ""
    return _stops_short(missing, wanted)


def _stops_short(missing_mm: float, wanted: Wanted) -> str:
    return message(
        "Wide open, {length} short of the {girth} wanted.",
        length=say_short_by(missing_mm, wanted.unit),
        girth=say_length(wanted.girth_mm, wanted.unit),
    )


def _effect(height_mm: float, girth_mm: float, wanted: Wanted) -> AtHeight:
    """Opening and lasting gain at a height, and how much looser than wanted that leaves it."""
    opening = max(0.0, girth_mm - wanted.boot.at(height_mm))
    gain = wanted.kept * opening
    if wanted.need is not None and wanted.need.span[0] <= height_mm <= wanted.need.span[1]:
        return AtHeight(height_mm, opening, gain, gain - max(0.0, wanted.need.at(height_mm)))
    near = abs(height_mm - wanted.at_mm) <= book.NEAR_ASKED_MM
    return AtHeight(height_mm, opening, gain, None if near else gain)
