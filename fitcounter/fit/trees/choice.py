"""Which tree serves a round: what each would do at every height of the shaft, and for each that
will not do, why.

A tree does not open at one height only. Lengths are millimetres of inside girth; heights above the
inside heel seat. No published standard: the limits are the shop's own (`handbook_shop`,
`materials`).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.handbook.leg import TIE
from fitcounter.fit.tape import say_length, say_short_by
from fitcounter.fit.trees.calibration import Girths
from fitcounter.fit.trees.limits import AtHeight, Wanted, too_much
from fitcounter.fit.trees.serving import (
    Seat,
    Tree,
    does_not_go_in,
    effects_of,
    heights_of,
    kept_off,
    seats_of,
)


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
    seats = seats_of(tree, wanted)
    tried = [_tried(tree, seat, wanted) for seat in seats] or [_not_measured(tree, wanted)]
    best = min(
        (answer for answer in tried if isinstance(answer, Choice)), key=_rank, default=tried[0]
    )
    if isinstance(best, Choice) and (sentence := kept_off(tree, seats, wanted)):
        return Rejected(tree.label, sentence)
    return best


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


def _tried(tree: Tree, seat: Seat, wanted: Wanted) -> Choice | Rejected:
    """A measured tree, set so high, opened to the wanted girth at the asked height."""
    girths = seat.girths
    low, high = girths.span
    if not low <= wanted.at_mm <= high:
        return Choice(
            tree.label,
            seat.pads,
            note=message(
                "not measured at {height} yet", height=say_length(wanted.at_mm, wanted.unit)
            ),
        )
    heights = heights_of(girths, wanted)
    if sentence := does_not_go_in(girths, heights, wanted) or _does_not_reach(girths, wanted):
        return Rejected(tree.label, sentence)
    share, effects = effects_of(girths, wanted, wanted.girth_mm)
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
        pads=seat.pads,
        share=share,
        setting=None if tree.scale is None else tree.scale.setting(share),
        heights=effects,
        worst_looseness_mm=max(0.0, loosest[0]) if loosest else 0.0,
        worst_at_mm=loosest[1] if loosest else None,
        room_left_mm=girths.open.at(wanted.at_mm) - wanted.girth_mm,
        shift_mm=seat.shift_mm,
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
