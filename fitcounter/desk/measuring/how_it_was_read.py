"""How a pair was read: what the sheet says beside its readings, and the columns it is kept in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadReading
from fitcounter.fit.tape import parse_length

# The likely names of heights above the floor, mm, where nobody said otherwise: from memory.
STATIONS = (
    (0, 128, "small"),
    (150, 190, "achilles"),
    (240, 290, "rise"),
    (291, 345, "calf"),
    (346, 420, "below-knee"),
)
# The most that each typed length can be, mm.
_MOST_MM = {
    "layer": 20,
    "seat": 300,
    "shaft": 900,
    "rise": 139,
    "wall": 15,
    "heel_left": 600,
    "heel_right": 600,
}
# What the heights can be told from other than the heel seat, and the length that each needs.
_NEEDS = {
    "ground": (
        "seat",
        marked("Type the heel seat’s height above the ground: heights start there."),
    ),
    "top-line": (
        "shaft",
        marked("Type the shaft height, heel seat to top line: heights start there."),
    ),
}


class Terms(NamedTuple):
    """How it was read: of the fit (legs) and of the boots.

    Lengths as typed; an empty wall keeps the one that is stored. ends_left, ends_right: the boot
    ends below the highest reading of what it is held against.
    """

    posture: str = "standing"
    over: str = "skin"
    layer: str = ""
    part_of_day: str = "evening"
    marked: bool = False
    on_block: bool = False
    ease: str = "close"
    method: str = "inside"
    heights_from: str = "heel-seat"
    seat: str = ""
    shaft: str = ""
    wall: str = ""
    rise: str = ""
    heel_left: str = ""
    heel_right: str = ""
    ends_left: bool = False
    ends_right: bool = False


def station_at(height_mm: float) -> str:
    """The likely name of a height on a leg, '' where it has none."""
    return next((name for low, high, name in STATIONS if low <= height_mm <= high), "")


@dataclass(frozen=True, slots=True)
class Columns:
    """The terms of a sheet as columns of the rows they are kept in.

    of_fit, of_boots: the same for both boots; of_side: of one boot alone.
    """

    of_fit: dict[str, Any]
    of_boots: dict[str, Any]
    of_side: dict[str, dict[str, Any]]

    def of_boot(self, side: str) -> dict[str, Any]:
        """All columns of the boot of that side."""
        return self.of_boots | self.of_side[side]


def columns_of(terms: Terms, unit: str, target: str) -> Columns:
    """The columns of the terms, every typed length in whole micrometres.

    unit: of bare numbers. target: how it is said how much (leg, gap, amount, safe).
    Raises BadFields with a sentence for each length that cannot be taken.
    """
    um = _lengths(terms, unit)
    boots: dict[str, Any] = {
        "target": target,
        "method": terms.method,
        "heights_from": terms.heights_from,
        "seat_um": um["seat"] or 0,
        "shaft_um": um["shaft"] or 0,
        "rise_um": um["rise"] or 0,
    }
    if um["wall"] is not None:
        boots["wall_um"] = um["wall"]
    fit = {
        "unit": unit,
        "posture": terms.posture,
        "over": terms.over,
        "part_of_day": terms.part_of_day,
        "ease": terms.ease,
        "marked": int(terms.marked),
        "on_block": int(terms.on_block),
        "layer_um": um["layer"] or 0,
    }
    ends = {"left": terms.ends_left, "right": terms.ends_right}
    return Columns(
        fit,
        boots,
        {
            side: {"heel_um": um[f"heel_{side}"], "ends_below": int(below)}
            for side, below in ends.items()
        },
    )


def _lengths(terms: Terms, unit: str) -> dict[str, int | None]:
    """Every typed length in micrometres, None where nothing is typed."""
    problems = Problems()
    um: dict[str, int | None] = dict.fromkeys(_MOST_MM)
    typed = {name: getattr(terms, name) for name in um}
    for name in filter(lambda name: typed[name].strip(), typed):
        with problems.reading():
            um[name] = _um(name, typed[name], unit)
    needed, sentence = _NEEDS.get(terms.heights_from, ("", ""))
    if needed and not um[needed]:
        problems.add(needed, say(sentence))
    problems.raise_any()
    return um


def _um(name: str, typed: str, unit: str) -> int:
    """A typed length in micrometres. Raises BadReading."""
    read = parse_length(typed, unit, name, zero_ok=True)
    if read.mm > _MOST_MM[name]:
        raise BadReading(
            say("That is over {most} mm. Check the unit.", most=_MOST_MM[name]),
            typed=typed,
            field=name,
        )
    return read.um
