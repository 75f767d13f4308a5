"""What was read when somebody was here before: shown beside a new sheet to compare with, asked
again, never used for it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import say, say_n
from fitcounter.desk.measuring.sheet import SheetLine, cell_name
from fitcounter.errors import BadReading
from fitcounter.fit.assessment.legs import FOOT_STATIONS
from fitcounter.fit.assessment.one_round import grown_mm, kept_words
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.tape import parse_length
from fitcounter.store import fits, readings, rounds, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Fit, Item, Ticket

SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Height:
    """What was read at one height: girths as typed then, '' where there is none, left first."""

    height: str
    legs: tuple[str, str]
    boots: tuple[str, str]


@dataclass(frozen=True, slots=True)
class LastLeg:
    """A leg of last time at one height of a new sheet, in mm and in words."""

    girth_mm: float
    words: str


@dataclass(frozen=True, slots=True)
class LastTime:
    """read_at: UTC text.

    same_boots: these boots came back, not other ones. grew: what each boot did then, in words.
    legs: each side's profile then, where it was read.
    """

    ticket: Ticket
    read_at: str
    heights: tuple[Height, ...]
    same_boots: bool
    grew: tuple[str, ...]
    legs: Mapping[str, Profile]


def last_time(store: Store, ticket: Ticket, unit: str) -> LastTime | None:
    """The newest earlier ticket of the customer with readings; of boots that came back, the ticket
    they came back from. unit: for lengths.
    """
    earlier = [one for one in tickets.of_customer(store, ticket.customer_id) if one.id < ticket.id]
    earlier.sort(key=lambda one: one.id != ticket.returns_ticket_id)
    for one in earlier:
        for fit in fits.of_ticket(store, one.id):
            boots = fits.boots(store, fit.id)
            if heights := _heights(store, fit, boots):
                same = one.id == ticket.returns_ticket_id
                grew = tuple(_grew(store, boot, unit) for boot in boots) if same else ()
                return LastTime(
                    one,
                    one.opened_at,
                    heights,
                    same,
                    tuple(words for words in grew if words),
                    _profiles(store, fit),
                )
    return None


def last_legs(last: LastTime, lines: Sequence[SheetLine], unit: str) -> dict[str, LastLeg]:
    """The legs of last time at the heights of a new sheet, by cell name; "about" between the
    heights that were read, none beyond them. unit: of the sheet.
    """
    found = {}
    for row, line in enumerate(lines):
        height = _height_mm(line, unit)
        for side, leg in last.legs.items() if height is not None else ():
            if height is None or not leg.covers(height):
                continue
            girth_mm = leg.at(height)
            length = say_length(girth_mm, unit)
            words = (
                say("about {length}", length=length) if leg.reading_at(height) is None else length
            )
            found[cell_name("leg", side, row)] = LastLeg(girth_mm, words)
    return found


def _height_mm(line: SheetLine, unit: str) -> float | None:
    with suppress(BadReading):
        return parse_length(line.height, unit).float_mm
    return None


def _profiles(store: Store, fit: Fit) -> dict[str, Profile]:
    """By the first reading at each height, as the table shows them; the foot has no height."""
    points: dict[str, dict[float, float]] = {}
    for leg in readings.legs(store, fit.id):
        if leg.station not in FOOT_STATIONS:
            points.setdefault(leg.side, {}).setdefault(leg.height_um / 1000, leg.girth_um / 1000)
    return {side: Profile.through(at.items()) for side, at in points.items()}


def _heights(store: Store, fit: Fit, boots: list[Item]) -> tuple[Height, ...]:
    """Highest first, as on the sheet."""
    said: dict[int, str] = {}
    girths: dict[tuple[str, str, int], str] = {}
    for leg in readings.legs(store, fit.id):
        said.setdefault(leg.height_um, leg.height_text)
        girths.setdefault(("leg", leg.side, leg.height_um), leg.girth_text)
    for boot in boots:
        for one in readings.boots(store, boot.id):
            said.setdefault(one.height_um, one.height_text)
            girths.setdefault(("boot", str(boot.side), one.height_um), one.girth_text)
    return tuple(
        Height(
            said[um],
            *(  # type: ignore[arg-type]
                tuple(girths.get((what, side, um), "") for side in SIDES)
                for what in ("leg", "boot")
            ),
        )
        for um in sorted(said, reverse=True)
    )


def _grew(store: Store, boot: Item, unit: str) -> str:
    """'Left boot gave 9/16 in in 2 rounds; kept about half': over its counted readings, '' where
    there are none.
    """
    read = [
        one
        for one in rounds.of_item(store, boot.id)
        if one.rested_um is not None and one.rested_counts and one.before_um
    ]
    if not read:
        return ""
    first, last = read[0], read[-1]
    one_method = first.method == last.rested_method
    grown = (
        grown_mm((first.before_um or 0) / 1000, (last.rested_um or 0) / 1000, first.method)
        if one_method
        else None
    )
    shares = []
    for one in read:
        turns = [turn for turn in rounds.turns(store, one.id) if turn.girth_um is not None]
        if (
            turns
            and (turns[-1].girth_um or 0) > (one.before_um or 0)
            and one.rested_method in ("", one.method)
        ):
            shares.append(
                ((one.rested_um or 0) - (one.before_um or 0))
                / ((turns[-1].girth_um or 0) - (one.before_um or 0))
            )
    gave = _gave(boot, len(read), None if grown is None else say_length(max(0.0, grown), unit))
    kept = say("kept {share}", share=kept_words(sum(shares) / len(shares))) if shares else ""
    return f"{gave}; {kept}" if kept else gave


def _gave(boot: Item, count: int, amount: str | None) -> str:
    which = say("Left boot") if boot.side == "left" else say("Right boot")
    if amount is None:
        return say_n("{boot}: {count} round", "{boot}: {count} rounds", count, boot=which)
    return say_n(
        "{boot} gave {amount} in {count} round",
        "{boot} gave {amount} in {count} rounds",
        count,
        boot=which,
        amount=amount,
    )
