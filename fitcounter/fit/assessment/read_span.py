"""Whether the boot was read as far as what it is held against: the leg, the gaps, or the amounts.

Heights are millimetres above the inside heel seat. What is read higher than the boot would be lost
in silence, so it is refused, unless the boot ends below it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.errors import BadInput, message
from fitcounter.fit.assessment.job import Side
from fitcounter.fit.handbook.leg import READ_ON_MM, TIE, TOP_WITHIN_MM
from fitcounter.fit.tape import Length, say_length

NOT_ABOVE, NOT_BELOW = "not-above", "not-below"
_SIDES = {"left": message("left"), "right": message("right")}
_ABOUT = {
    "leg": message("the leg is read up to"),
    "gap": message("the gap is read up to"),
    "amount": message("an amount is asked up to"),
}


class BootReadTooLow(BadInput):
    """What the boot is held against was read higher than the boot.

    side: of the boot; target: leg, gap or amount; marked: its highest height; highest_mm: the
    boot's highest reading, above the heel seat.
    """

    def __init__(self, sentence: str, side: Side, marked: Length, highest_mm: float) -> None:
        super().__init__(sentence, field=f"{side.name}.boot")
        self.side, self.target, self.marked = side.name, side.target, marked
        self.highest_mm = highest_mm


class TargetMark(NamedTuple):
    """A height of what the boot is held against: above the heel seat, and as it was marked."""

    height_mm: float
    marked: Length


def span_notes(
    side: Side, marks: Sequence[TargetMark], boot_mm: tuple[float, float], unit: str
) -> tuple[str, ...]:
    """The notes of what lies outside the boot's readings: "not-above", "not-below".

    marks: of the target; boot_mm: lowest and highest reading of the boot. Raises BadInput naming
    the side's boot where it was not read far enough, or says that it ends under its own reading.
    """
    lowest, highest = boot_mm
    top = _top_mm(side)
    if side.boot.top_mm is not None and side.boot.top_mm < highest - TIE:
        raise BadInput(
            message(
                "boot.top_mm: the {side} boot was read at {height}, above the top line given here;"
                " write the top line again, or that reading.",
                side=_SIDES[side.name],
                height=say_length(highest, unit),
            ),
            field="boot.top_mm",
        )
    above = [mark for mark in marks if mark.height_mm > highest + READ_ON_MM + TIE]
    if above and not (
        top is not None
        and all(top < mark.height_mm - TIE for mark in above)
        and top <= highest + TOP_WITHIN_MM + TIE
    ):
        raise _not_far_enough(side, max(above, key=_height), highest, unit)
    below = min(map(_height, marks)) < lowest - READ_ON_MM - TIE
    return (*((NOT_ABOVE,) if above else ()), *((NOT_BELOW,) if below else ()))


def _height(mark: TargetMark) -> float:
    return mark.height_mm


def _top_mm(side: Side) -> float | None:
    """The boot's top line above the heel seat; None where it is not known."""
    if side.boot.top_mm is not None:
        return side.boot.top_mm
    return side.boot.shaft_mm if side.boot.shaft_mm > 0 else None


def _not_far_enough(side: Side, mark: TargetMark, highest_mm: float, unit: str) -> BootReadTooLow:
    height = say_length(mark.marked.mm, mark.marked.unit)
    sentence = message(
        "{path}: {what} {height}, this boot only to {highest}: measure the {side} boot at {height}"
        " too, or say that it ends below that (boot.top_mm), read to within an inch of its top.",
        path=f"{side.name}.boot",
        what=_ABOUT[side.target],
        height=height,
        highest=say_length(highest_mm, unit),
        side=_SIDES[side.name],
    )
    return BootReadTooLow(sentence, side, mark.marked, highest_mm)
