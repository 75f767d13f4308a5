"""The measuring sheet: what stands in its cells as typed, and what can be read of it.

A cell is named what_side_row, with _2, _3 for a second and third reading: leg_left_0,
boot_right_3_2. A row has a height and, for legs, a station.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
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


@dataclass(slots=True)
class _Reader:
    sheet: Sheet
    problems: Problems = field(default_factory=Problems)
    repeats: range = range(1, MOST_REPEATS + 1)

    def __post_init__(self) -> None:
        """Most sheets have one reading a cell, and then nobody looks for a second."""
        if not read_again(self.sheet.cells):
            self.repeats = self.repeats[:1]

    def length(self, name: str, typed: str, what: str, unit: str = "") -> Length | None:
        """The length in a cell, or None with its sentence kept.

        unit: where it is not the sheet's own.
        """
        low, high = RANGES[what]
        sheet = self.sheet
        if sheet.kept_unit and sheet.kept.get(name) == typed:
            unit = sheet.kept_unit
        try:
            read = parse_length(typed, unit or sheet.unit, name, zero_ok=low == 0)
        except BadReading as error:
            self.problems.add(name, error.sentence)
            return None
        if low <= read.float_mm <= high:
            return read
        self.problems.add(name, beyond(read, what))
        return None

    def readings(self, what: str, row: int, height: Length | None) -> Iterator[Cell]:
        """The readings of both boots in one row, each cell with its repeats; an empty one between
        two is closed up.
        """
        sheet = self.sheet
        station = sheet.rows[row].station if what == "leg" else ""
        repeats = self.repeats[:1] if what == "amount" else self.repeats
        for side in sheet.sides:
            count = 0
            for repeat in repeats:
                name = cell_name(what, side, row, repeat)
                typed = sheet.cells.get(name)
                if not typed or typed.isspace():
                    continue
                read = self.length(name, typed, what)
                if read is not None and height is not None:
                    count += 1
                    yield Cell(what, side, row, count, height, read, station)


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
    heights = _heights(reader)
    cells: list[Cell] = []
    for row, what in product(range(len(sheet.rows)), READS[sheet.target]):
        cells += reader.readings(what, row, heights.get(row))
    reader.problems.raise_any()
    return cells


def _heights(reader: _Reader) -> dict[int, Length]:
    """The height of each row in use, as every reading there has it; two rows at one height are
    named both.
    """
    found: dict[int, Length] = {}
    at: dict[int, int] = {}  # the first row at each height, µm
    for row, line in enumerate(reader.sheet.rows):
        used = any(reader.sheet.cells.get(name, "").strip() for name in _names(reader, row))
        if not used:
            continue
        if not line.height.strip():
            reader.problems.add(f"height_{row}", say("Type the height, like 12."))
        elif (read := reader.length(f"height_{row}", line.height, "height", line.unit)) is not None:
            twin = at.setdefault(read.um, row)
            if twin != row:
                reader.problems.add(
                    f"height_{row}",
                    say(
                        "Lines {first} and {second} are at the same height. Keep one of them.",
                        first=twin + 1,
                        second=row + 1,
                    ),
                )
            found[row] = with_unit(read)
    return found


def _names(reader: _Reader, row: int) -> Iterator[str]:
    """One after the other: the first cell of a row in use tells that it is."""
    sheet = reader.sheet
    for what, side, repeat in product(READS[sheet.target], sheet.sides, reader.repeats):
        yield cell_name(what, side, row, repeat)
