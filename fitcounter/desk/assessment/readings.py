"""What was read of a pair, in exact lengths: every stored text is parsed once, and says its own
unit from then on, whatever unit a page is in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from fitcounter.errors import BadReading
from fitcounter.fit.assessment.job import Asked, FootReading, Reading
from fitcounter.fit.assessment.legs import FOOT_STATIONS
from fitcounter.fit.handbook import leg as book
from fitcounter.fit.tape import Length, parse_length
from fitcounter.store.readings import BroughtIn
from fitcounter.store.records import Item

MOST_READ = 2048
KINDS = ("leg", "boot", "gap", "amount")
_STATION = dict.fromkeys(("", "none"))  # of a further height the job says None


class ExactReading(NamedTuple):
    """One reading of a pair. what: of KINDS; station: of a leg, '' where it has none."""

    what: str
    side: str
    station: str
    height: Length
    length: Length


def exact_readings(
    read: BroughtIn, boots: Sequence[Item], kinds: Sequence[str] = KINDS
) -> list[ExactReading]:
    """The readings of these kinds in stored rows: of one side and kind by height and repeat."""
    return [
        ExactReading(
            row.what,
            row.side,
            row.station,
            stored_length(row.height_text, row.unit, row.height_um),
            stored_length(row.text, row.unit, row.um),
        )
        for row in _rows(read, boots, kinds)
    ]


class _Row(NamedTuple):
    """One stored reading, of whichever table."""

    what: str
    side: str
    station: str
    height_um: int
    height_text: str
    um: int
    text: str
    unit: str


def _rows(read: BroughtIn, boots: Sequence[Item], kinds: Sequence[str]) -> Iterator[_Row]:
    for leg in read.legs if "leg" in kinds else ():
        height = (leg.height_um, leg.height_text)
        yield _Row("leg", leg.side, leg.station, *height, leg.girth_um, leg.girth_text, leg.unit)
    for boot in boots:
        side = str(boot.side)
        for girth in read.boots[boot.id] if "boot" in kinds else ():
            height = (girth.height_um, girth.height_text)
            yield _Row("boot", side, "", *height, girth.girth_um, girth.girth_text, girth.unit)
        for kind in ("gap", "amount"):
            for gap in read.gaps[boot.id, kind] if kind in kinds else ():
                height = (gap.height_um, gap.height_text)
                yield _Row(kind, side, "", *height, gap.gap_um, gap.gap_text, gap.unit)


def leg_readings(
    read: Iterable[ExactReading],
) -> tuple[tuple[Reading, ...], tuple[FootReading, ...]]:
    """The girths of one leg by height, and those of its foot, which belong to no height."""
    leg, foot = [], []
    for first, girths in _by_height(read):
        station = first.station
        if station in FOOT_STATIONS:
            foot.append(FootReading(station, girths))
        else:
            leg.append(Reading.of(_STATION.get(station, station), first.height, girths))
    return tuple(leg), tuple(foot)


def shaft_readings(read: Iterable[ExactReading]) -> tuple[Reading, ...]:
    """The girths of one boot by height."""
    return tuple(Reading.of(None, first.height, girths) for first, girths in _by_height(read))


def asked_readings(read: Iterable[ExactReading]) -> tuple[Asked, ...]:
    """The gaps, or the amounts asked for, of one boot by height."""
    return tuple(Asked(first.height, lengths) for first, lengths in _by_height(read))


def above_heel_seat(asked: Sequence[Asked], boot: Item) -> tuple[Asked, ...]:
    """Gaps or amounts at heights above the heel seat, which the computation takes alone: they are
    marked beside the boot's own readings, so they have its datum.
    """
    if boot.heights_from == "heel-seat":
        return tuple(asked)
    return tuple(replace(entry, height=_from_heel_seat(entry.height, boot)) for entry in asked)


def _from_heel_seat(height: Length, boot: Item) -> Length:
    ground = boot.heights_from == "ground"
    up = height.um - boot.seat_um if ground else boot.shaft_um - height.um
    return replace(length_of_um(up), unit=height.unit)


@lru_cache(maxsize=MOST_READ)
def stored_length(text: str, unit: str, um: int) -> Length:
    """A stored length, exact, with its unit in its text. unit: of a bare text.

    Parsed once: a height stands in the row of every reading taken at it, and the same rows come
    back all day. A text that cannot be read any more gives way to the stored micrometres, which say
    what was meant.
    """
    try:
        return saying_unit(parse_length(text, unit, zero_ok=True))
    except BadReading:
        return length_of_um(um)


def with_unit(length: Length) -> Length:
    """`saying_unit`, made once for a length that comes back in every row of its height."""
    return stored_length(length.text, length.unit, length.um)


def saying_unit(length: Length) -> Length:
    """The same length with its unit in its text, in millimetres where that would be too long to be
    typed again.
    """
    if not length.text[-1:].isnumeric():  # a unit is letters or marks
        return length
    text = f"{length.text} {length.unit}"
    return replace(length, text=text) if len(text) <= book.LONGEST_TEXT else length_of_um(length.um)


def length_of_um(um: int) -> Length:
    """A length of whole micrometres, in millimetres."""
    return Length(Fraction(um, book.UM_PER_MM), f"{um / book.UM_PER_MM:g} mm", "mm")


def _by_height(read: Iterable[ExactReading]) -> list[tuple[ExactReading, tuple[Length, ...]]]:
    """The first reading at each height, with the lengths of all that were taken there."""
    groups: list[tuple[ExactReading, tuple[Length, ...]]] = []
    at = None
    for one in read:
        um = one.height.um
        if um == at:
            first, lengths = groups[-1]
            groups[-1] = first, (*lengths, one.length)
        else:
            groups.append((one, (one.length,)))
            at = um
    return groups
