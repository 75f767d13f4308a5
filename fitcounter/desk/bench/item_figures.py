"""The figures on a boot's page: short by how much now, its rounds as a chart, what the last one
kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from fitcounter.desk.assessment import standing as stand
from fitcounter.desk.assessment.drawing import MOST_DRAWN, boot_now
from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.assessment.verdict_notes import fits_sentence, moved_sentence
from fitcounter.desk.common.lengths import say_length, say_short_by
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds.round_seen import RoundSeen
from fitcounter.desk.shop import Shop
from fitcounter.fit.drawings.pair import Drawing
from fitcounter.fit.drawings.rounds_chart import RoundsDrawing, rounds_drawing
from fitcounter.fit.drawings.rounds_words import RoundReadings
from fitcounter.fit.handbook.leg import FLAT_FACTOR, UM_PER_MM
from fitcounter.fit.tape import height_as_marked, sixteenths_nearest, write_plain
from fitcounter.store.database import Store
from fitcounter.store.records import Item


class Figures(NamedTuple):
    """need: what it is short by now, in words. done: nothing is short any more.

    kept: what the last round kept, "" before one was read. stops: why to stop before another.
    drawing: the boot as it is now. again: a second rested reading could turn done into not done, or
    back. beside: how sure "done" will be, and what the other boot's rounds did to the guess.
    """

    need: str
    done: bool
    kept: str
    stops: tuple[str, ...]
    chart: RoundsDrawing | None
    mark: str
    drawing: Drawing
    again: bool = False
    beside: tuple[str, ...] = ()


def figures(
    store: Store, shop: Shop, item: Item, seen: Sequence[RoundSeen], found: Standing | None
) -> Figures | None:
    """None where the boot was not measured."""
    if found is None:
        return None
    mark_mm = mark_mm_of(item, found)
    return Figures(
        short_words(found, shop.unit),
        found.done,
        stand.kept_sentence(found, shop.unit) if item.state == "to-decide" else "",
        (
            tuple(stand.stops(store, found, item))
            if item.state in ("to-decide", "queued", "prepared")
            else ()
        ),
        chart(shop, seen, found.place_at(mark_mm).need_mm),
        mark_typed(item, found, shop.unit),
        boot_now(found, item, shop),
        item.state == "to-decide" and "rested-again" in found.verdict.notes,
        _beside(found, item) if item.state in ("to-decide", "queued", "prepared") else (),
    )


def short_words(found: Standing, unit: str) -> str:
    """What the boot is short by now, at its tightest place: said here alone, for every page."""
    if found.done and found.need_mm <= 0:
        return say("wide enough")
    short = {
        "amount": say_short_by(found.need_mm, unit),
        "height": height_typed(found.verdict.worst.height_mm, unit),
    }
    if found.done:
        return say("{amount} short at {height}, which is near enough", **short)
    return say("{amount} short at {height}", **short)


def _beside(found: Standing, item: Item) -> tuple[str, ...]:
    said = (fits_sentence(found.verdict), moved_sentence(found.case, str(item.side)))
    return tuple(sentence for sentence in said if sentence)


def chart(shop: Shop, seen: Sequence[RoundSeen], need_mm: float) -> RoundsDrawing | None:
    """The rounds that were read as the last one was; the wanted line is what the last counted
    reading is short by, above it.
    """
    if not seen:
        return None
    method = seen[-1].row.method
    drawn = tuple(_readings(one) for one in seen if one.row.method == method)
    counted = [one.rested_mm for one in drawn if one.rested_mm is not None]
    now = (
        counted[-1]
        if counted
        else next((one.before_mm for one in drawn if one.before_mm is not None), None)
    )
    if now is None:
        return None
    factor = FLAT_FACTOR if method == "flat" else 1
    return _drawn(drawn, now + max(0.0, need_mm) / factor, "in" if shop.unit == "in" else "cm")


@lru_cache(maxsize=MOST_DRAWN)
def _drawn(rounds: tuple[RoundReadings, ...], wanted_mm: float, unit: str) -> RoundsDrawing:
    """The same rounds are drawn once: a boot's page is opened at every scan."""
    return rounds_drawing(rounds, wanted_mm, unit=unit)


def _readings(one: RoundSeen) -> RoundReadings:
    row = one.row
    counts = (
        row.rested_um is not None and row.rested_counts and row.rested_method in ("", row.method)
    )
    return RoundReadings(
        None if row.before_um is None else row.before_um / UM_PER_MM,
        None if one.on_tree_um is None else one.on_tree_um / UM_PER_MM,
        row.rested_um / UM_PER_MM if counts and row.rested_um is not None else None,
    )


def mark_mm_of(item: Item, found: Standing) -> float:
    return found.verdict.worst.height_mm if item.mark_um is None else item.mark_um / UM_PER_MM


def mark_typed(item: Item, found: Standing | None, unit: str) -> str:
    """The mark a boot is read at, as it is typed: its own to the sixteenth, else the tightest
    place; "" where neither is known.
    """
    if item.mark_um is not None:
        return _typed(item.mark_um / UM_PER_MM, unit)
    return height_typed(found.verdict.worst.height_mm, unit) if found else ""


def height_typed(mm: float, unit: str) -> str:
    """A computed height as it is typed and said: "10 1/2", "26.7 cm"."""
    return _typed(height_as_marked(mm, unit), unit)


def _typed(mm: float, unit: str) -> str:
    return write_plain(sixteenths_nearest(mm)) if unit == "in" else say_length(mm, "cm")
