"""Whether a boot goes on a tree as it stands, and what the tree does to it all along the shaft: the
one test that trees are booked by and that a boot which is put on is held to.

Lengths are millimetres of inside girth; heights above the inside heel seat. No published standard:
the limits are the shop's own (`handbook_shop`, `materials`).
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
from fitcounter.fit.tape import say_height, say_length, say_short_by
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


def why_kept_off(tree: Tree, wanted: Wanted, *, limits: bool = True) -> str:
    """Why a boot does not go on a tree however little it is opened; "" where it does.

    The one test of what fits: trees are booked by it, and a boot that is put on is held to it. A
    tree goes in, opens the boot at the asked height, and passes no limit anywhere along the shaft
    by the least opening; the wanted one may be more than it can. Side and state are not looked at.
    limits: False looks at sizes alone.
    """
    return kept_off(tree, seats_of(tree, wanted), wanted, limits=limits)


def why_kept_off_girth(tree: Tree, girth_mm: float, unit: str) -> str:
    """`why_kept_off` where a boot is known by one inside girth alone."""
    return _past_its_ends(tree, girth_mm, girth_mm, unit)


def why_not_so_far(tree: Tree, wanted: Wanted, pads: str, shift_mm: float) -> str:
    """Why a tree turned to the wanted girth is too much, anywhere along the shaft; "" where it is
    not, or where the tree was not measured so.
    """
    girths = girths_of(tree.points, pads)
    if girths is None or not girths.shifted(shift_mm).closed.covers(wanted.at_mm):
        return ""
    return too_much(effects_of(girths.shifted(shift_mm), wanted, wanted.girth_mm)[1], wanted)


@dataclass(frozen=True, slots=True)
class Seat:
    """A tree with some pads, set so high. girths: as it sits."""

    pads: str
    shift_mm: float
    girths: Girths


def seats_of(tree: Tree, wanted: Wanted) -> list[Seat]:
    """Every set of pads it was measured with, wherever it may sit; none where not measured."""
    measured = [
        (pads, girths)
        for pads in pads_of(tree.points)
        if (girths := girths_of(tree.points, pads)) is not None
    ]
    return [
        Seat(pads, shift, girths.shifted(shift))
        for pads, girths in measured
        for shift in tree.shifts_mm(wanted.unit)
        if not shift or girths.shifted(shift).closed.covers(wanted.at_mm)
    ]


def kept_off(tree: Tree, seats: list[Seat], wanted: Wanted, *, limits: bool = True) -> str:
    """`why_kept_off`, from its seats."""
    now_mm = wanted.boot.at(wanted.at_mm)
    if not seats:
        return _past_its_ends(tree, now_mm, max(wanted.boot.girths_mm), wanted.unit)
    first = ""
    for seat in seats:
        sentence = _seat_kept_off(tree, seat.girths, wanted, limits)
        if not sentence:
            return ""
        first = first or sentence
    return first


def _seat_kept_off(tree: Tree, girths: Girths, wanted: Wanted, limits: bool) -> str:
    if not girths.closed.covers(wanted.at_mm):
        return ""
    now_mm, most_mm = wanted.boot.at(wanted.at_mm), girths.open.at(wanted.at_mm)
    heights = heights_of(girths, wanted)
    if sentence := does_not_go_in(girths, heights, wanted):
        return sentence
    if most_mm <= now_mm + TIE:
        return _too_small(tree, most_mm, now_mm, wanted.unit)
    if not limits:
        return ""
    least_mm = min(now_mm + book.LEAST_OPENING_MM, most_mm, wanted.girth_mm)
    return too_much(effects_of(girths, wanted, least_mm)[1], wanted)


def _past_its_ends(tree: Tree, now_mm: float, fullest_mm: float, unit: str) -> str:
    """By its one closed and one open girth alone: larger closed than the boot where it is fullest,
    or no wider open than the boot at the asked height.
    """
    if tree.closed_mm is not None and tree.closed_mm > fullest_mm + TIE:
        return message(
            "Tree {tree} is too big for this boot: {least} closed. The boot is {girth} inside.",
            tree=tree.label,
            least=say_length(tree.closed_mm, unit),
            girth=say_length(fullest_mm, unit),
        )
    if tree.open_mm is not None and tree.open_mm <= now_mm + TIE:
        return _too_small(tree, tree.open_mm, now_mm, unit)
    return ""


def _too_small(tree: Tree, most_mm: float, now_mm: float, unit: str) -> str:
    return message(
        "Tree {tree} is too small: {most} wide open. The boot is {girth} inside already.",
        tree=tree.label,
        most=say_length(most_mm, unit),
        girth=say_length(now_mm, unit),
    )


def does_not_go_in(girths: Girths, heights: Iterable[float], wanted: Wanted) -> str:
    excess, height = max(
        (girths.closed.at(height) - wanted.boot.at(height), height) for height in heights
    )
    if excess <= TIE:
        return ""
    return message(
        "Too big for this boot: closed, {length} over at {height}.",
        length=say_short_by(excess, wanted.unit),
        height=say_height(height, wanted.unit),
    )


def heights_of(girths: Girths, wanted: Wanted) -> list[float]:
    return sorted({*shared_heights(wanted.boot, girths.closed), wanted.at_mm})


def effects_of(
    girths: Girths, wanted: Wanted, girth_mm: float
) -> tuple[float, tuple[AtHeight, ...]]:
    """How far the tree is turned for a girth at the asked height, and what it does all along."""
    closed, most = girths.closed.at(wanted.at_mm), girths.open.at(wanted.at_mm)
    share = min(1.0, max(0.0, (girth_mm - closed) / max(most - closed, TIE)))
    return share, tuple(
        _effect(height, girths.at(height, share), wanted) for height in heights_of(girths, wanted)
    )


def _effect(height_mm: float, girth_mm: float, wanted: Wanted) -> AtHeight:
    """Opening and lasting gain at a height, and how much looser than wanted that leaves it."""
    opening = max(0.0, girth_mm - wanted.boot.at(height_mm))
    gain = wanted.kept * opening
    if wanted.need is not None and wanted.need.span[0] <= height_mm <= wanted.need.span[1]:
        return AtHeight(height_mm, opening, gain, gain - max(0.0, wanted.need.at(height_mm)))
    near = abs(height_mm - wanted.at_mm) <= book.NEAR_ASKED_MM
    return AtHeight(height_mm, opening, gain, None if near else gain)
