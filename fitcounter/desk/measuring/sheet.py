"""The measuring sheet: what stands in its cells as typed, and what can be read of it.

A cell is named what_side_row, with _2, _3 for a second and third reading: leg_left_0,
boot_right_3_2. A row has a height and, for legs, a station.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from fitcounter.desk.assessment.readings import with_unit
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say
from fitcounter.errors import BadReading
from fitcounter.fit.tape import Length, parse_length

_AGAIN = re.compile(r"^\w+_[0-9]+_[0-9]+$", re.MULTILINE | re.ASCII)  # of names, one a line
SIDES = ("left", "right")
MOST_REPEATS = 4
MOST_NAMES = 1024  # of cells, made once: every sheet has the same
MOST_SHAPES = 64  # of sheets: how many rows, for which target
MOST_LENGTHS = 2048
# What each way of saying how much reads, in the order of the page.
READS = {
    "leg": ("leg", "boot"),
    "gap": ("gap", "boot"),
    "amount": ("amount", "boot"),
    "safe": ("boot",),
}
NAMES = {"leg": "leg", "gap": "gap", "amount": "amount", "boot": "boot"}
# What a cell may mean at all, mm: beyond is a slip of the finger; the finer questions are asked in
# fit.legs.
RANGES = {
    "leg": (50, 1300),
    "boot": (50, 1300),
    "gap": (0, 400),
    "amount": (0, 400),
    "height": (0, 900),
}


@dataclass(frozen=True, slots=True)
class FreeLines:
    """Lines for heights of one's own. asked: how many are asked for; sent: how many lines came from
    a page, each of which stays.
    """

    asked: int = 0
    sent: int = 0


NO_LINES = FreeLines()


class Row(NamedTuple):
    """height: as typed.

    station: of the leg at that height, '' for none. unit: of a bare height, '' for the sheet's own.
    """

    height: str
    station: str = ""
    unit: str = ""


class SheetLine(NamedTuple):
    """One height of the sheet.

    height: as it is typed; typed: nobody fixed it, so the counter may write it.
    """

    height: str
    station: str
    typed: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet as typed. unit: of bare numbers. target: leg, gap, amount or safe. sides: of the
    boots that are here.

    kept, kept_unit: texts that stood in the cells already, and their unit: one that was not touched
    stays what it was, whatever unit the sheet is in now.
    """

    unit: str
    target: str
    rows: tuple[Row, ...]
    cells: Mapping[str, str]
    sides: tuple[str, ...] = SIDES
    kept: Mapping[str, str] = field(default_factory=dict)
    kept_unit: str = ""


class Cell(NamedTuple):
    """One reading. repeat: 1 for the first. height: with its unit in its text."""

    what: str
    side: str
    row: int
    repeat: int
    height: Length
    length: Length
    station: str = ""


class _Place(NamedTuple):
    """Where a reading may stand. name: of its cell."""

    name: str
    what: str
    side: str
    row: int
    repeat: int


class _Reader:
    """Reads the cells and heights of a sheet; what cannot be read is kept as a problem."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.problems = Problems()
        self.rows: dict[int, int] = {}  # the first at each height, µm

    def length(self, name: str, typed: str, what: str, unit: str = "") -> Length | None:
        """The length in a cell, or None with its sentence kept.

        unit: where it is not the sheet's own.
        """
        sheet = self.sheet
        if sheet.kept_unit and sheet.kept.get(name) == typed:
            unit = sheet.kept_unit
        try:
            return _read(typed, unit or sheet.unit, what)
        except BadReading as error:
            self.problems.add(name, error.sentence)
            return None

    def height(self, row: int) -> Length | None:
        """The height of a row in use; of two rows at one height the second is named."""
        name, line = f"height_{row}", self.sheet.rows[row]
        if not line.height.strip():
            self.problems.add(name, say("Type the height, like 12."))
            return None
        read = self.length(name, line.height, "height", line.unit)
        if read is None:
            return None
        twin = self.rows.setdefault(read.um, row)
        if twin != row:
            twice = say(
                "Lines {first} and {second} are at the same height. Keep one of them.",
                first=twin + 1,
                second=row + 1,
            )
            self.problems.add(name, twice)
        return with_unit(read)


def beyond(read: Length, what: str) -> str:
    """The sentence for a length that cannot be one of `what`, most often one in another unit; empty
    where it can be.
    """
    low, high = RANGES[what]
    if low <= read.float_mm <= high:
        return ""
    return say(
        "That is not between {low} and {high}. Check the tape and the unit ({unit}).",
        low=say_length(low, read.unit),
        high=say_length(high, read.unit),
        unit=read.unit,
    )


def read_length(text: str, unit: str, field: str, what: str = "boot") -> Length:
    """One length outside of a sheet, such as a girth at the bench.

    what: of RANGES. Raises BadReading at its field.
    """
    read = parse_length(text, unit, field, zero_ok=RANGES[what][0] == 0)
    if sentence := beyond(read, what):
        raise BadReading(sentence, typed=text, field=field)
    return read


@lru_cache(maxsize=MOST_LENGTHS)
def _read(text: str, unit: str, what: str) -> Length:
    """The same at no field, read once: the same texts come back all day."""
    return read_length(text, unit, "", what)


@lru_cache(maxsize=MOST_NAMES)
def cell_name(what: str, side: str, row: int, repeat: int = 1) -> str:
    return f"{what}_{side}_{row}" if repeat == 1 else f"{what}_{side}_{row}_{repeat}"


def read_again(names: Iterable[str]) -> list[str]:
    """The cells of second and further readings among the names of a form."""
    return _AGAIN.findall("\n".join(names))


def read_sheet(sheet: Sheet) -> list[Cell]:
    """Every filled cell as an exact length, rows in order.

    Raises BadFields with a sentence for each cell that cannot be read.
    """
    reader = _Reader(sheet)
    most = MOST_REPEATS if read_again(sheet.cells) else 1
    heights: dict[int, Length | None] = {}  # of the rows in use
    cells: list[Cell] = []
    count = 0
    for name, what, side, row, repeat in _places(sheet.target, sheet.sides, len(sheet.rows), most):
        if repeat == 1:
            count = 0
        typed = sheet.cells.get(name)
        if not typed or typed.isspace():  # an empty one between two is closed up
            continue
        if row not in heights:
            heights[row] = reader.height(row)
        read, height = reader.length(name, typed, what), heights[row]
        if read is not None and height is not None:
            count += 1
            station = sheet.rows[row].station if what == "leg" else ""
            cells.append(Cell(what, side, row, count, height, read, station))
    reader.problems.raise_any()
    return cells


@lru_cache(maxsize=MOST_SHAPES)
def _places(target: str, sides: tuple[str, ...], rows: int, most: int) -> tuple[_Place, ...]:
    """Every cell of a sheet with so many rows, and at most so many readings of one girth or gap."""
    return tuple(
        _Place(cell_name(what, side, row, repeat), what, side, row, repeat)
        for row, what, side, repeat in product(
            range(rows), READS[target], sides, range(1, most + 1)
        )
        if repeat == 1 or what != "amount"
    )
