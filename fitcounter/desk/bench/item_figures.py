"""The figures on a boot's page: short by how much now, its rounds as a chart, what the last one
kept, what the next may open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import tau

from fitcounter.desk.assessment import standing as stand
from fitcounter.desk.assessment.drawing import MOST_DRAWN, boot_now
from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.assessment.verdict_notes import fits_sentence, moved_sentence
from fitcounter.desk.bench.round_seen import RoundSeen
from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Shop
from fitcounter.fit.drawings.pair import Drawing
from fitcounter.fit.drawings.rounds_chart import RoundReadings, RoundsDrawing, rounds_drawing
from fitcounter.fit.handbook.leg import FLAT_FACTOR, MM_PER_CM, UM_PER_MM
from fitcounter.fit.tape import say_length, say_short_by, sixteenths_nearest, write_plain
from fitcounter.store import plans, readings, trees
from fitcounter.store.database import Store
from fitcounter.store.records import BootReading, Item

SAME_HEIGHT_UM = 5000  # a reading belongs to a mark within one step of the evaluated heights


@dataclass(frozen=True, slots=True)
class PutOnHints:
    """What the form of putting on is filled in with. planned: what the tape is to read; tree: the
    one it is planned on.

    expected: what the outside tape is likely to read before, by the wall, where the boot was only
    read another way. by_rested: left empty, the last rested reading stands for the one before.
    """

    tree: str
    before: str
    planned: str
    mark: str
    opening: str
    expected: str = ""
    by_rested: bool = False


@dataclass(frozen=True, slots=True)
class Figures:
    """need: short by now, in words; empty where it is not known. done: nothing is short any more.

    result: what the last round kept, and what that means. stops: why to stop before another.
    drawing: the boot as it is now. again: a second rested reading could turn done into not done, or
    back. beside: how sure "done" will be, and what the other boot's rounds did to the guess.
    """

    need: str
    done: bool
    result: str
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
    mark_mm = _mark_mm(item, found)
    need = (
        ""
        if found.done
        else (
            say(
                "{amount} short at {height}",
                amount=say_short_by(found.need_mm, shop.unit),
                height=_height(found.verdict.worst.height_mm, shop.unit),
            )
        )
    )
    return Figures(
        need,
        found.done,
        stand.result_sentence(found, shop.unit) if item.state == "to-decide" else "",
        (
            tuple(stand.stops(store, found, item))
            if item.state in ("to-decide", "queued", "prepared")
            else ()
        ),
        chart(shop, seen, found.place_at(mark_mm).need_mm),
        _height(mark_mm, shop.unit),
        boot_now(found, item, shop),
        item.state == "to-decide" and "rested-again" in found.verdict.notes,
        _beside(found, item) if item.state in ("to-decide", "queued", "prepared") else (),
    )


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


def put_on_hints(
    store: Store, shop: Shop, item: Item, seen: Sequence[RoundSeen], found: Standing | None
) -> PutOnHints:
    """From the plan, the last rested reading and the limits; empty where nothing is known."""
    mark_mm = (
        _mark_mm(item, found) if found else (item.mark_um / UM_PER_MM if item.mark_um else None)
    )
    method = seen[-1].row.method if seen else "outside"
    before, before_mm = _before(store, item, seen, method, mark_mm)
    planned = opening = ""
    if found is not None:
        following = found.opening_mm(mark_mm)
        opening = (
            stand.say_room(following.opening_mm, shop.unit)
            if following and following.opening_mm > 0
            else ""
        )
        if before_mm is not None:
            planned = stand.planned_reading(found, mark_mm, before_mm, method, shop.unit)
    expected = ""
    by_rested = not before and before_mm is not None
    if found is not None and before_mm is None and method == "outside":
        expected = say_length(
            found.place_at(mark_mm).girth_mm + tau * item.wall_um / UM_PER_MM, shop.unit
        )
    mark = _height(mark_mm, shop.unit) if mark_mm is not None else ""
    return PutOnHints(_tree(store, item), before, planned, mark, opening, expected, by_rested)


def _tree(store: Store, item: Item) -> str:
    planned = [one for one in plans.of_item(store, item.id) if one.kind == "planned"]
    return trees.get(store, planned[0].tree_id).label if planned else ""


def _before(
    store: Store, item: Item, seen: Sequence[RoundSeen], method: str, mark_mm: float | None
) -> tuple[str, float | None]:
    """The last reading that counted by this method at this mark: as the form is filled in with it,
    and in mm. One of its coming back goes before its rounds'.

    A rested reading fills nothing in: read anew it teaches the tape's own error.
    """
    back = max(
        readings.boots(store, item.id, "comeback"), key=lambda read: read.read_at, default=None
    )
    if back is not None and all((one.row.on_at or "") <= back.read_at for one in seen):
        return _at_mark([back], method, mark_mm)
    for one in reversed(seen):
        if one.row.rested_um and one.row.rested_counts and one.row.rested_method == method:
            return "", one.row.rested_um / UM_PER_MM
    if seen and any(one.row.on_at for one in seen):
        return "", None
    return _at_mark(readings.boots(store, item.id), method, mark_mm)


def _at_mark(
    read_so: Sequence[BootReading], method: str, mark_mm: float | None
) -> tuple[str, float | None]:
    for read in read_so:
        if (
            read.method == method
            and mark_mm is not None
            and abs(read.height_um - mark_mm * UM_PER_MM) <= SAME_HEIGHT_UM
        ):
            return _with_unit(read.girth_text, read.unit), read.girth_um / UM_PER_MM
    return "", None


def _with_unit(text: str, unit: str) -> str:
    return text if unit == "in" or text.endswith(unit) else f"{text} {unit}"


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


def _mark_mm(item: Item, found: Standing) -> float:
    return found.verdict.worst.height_mm if item.mark_um is None else item.mark_um / UM_PER_MM


def _height(mm: float, unit: str) -> str:
    """A height as it is typed: "10 1/2", "26.7 cm"."""
    return (
        write_plain(sixteenths_nearest(mm)) if unit == "in" else f"{mm / float(MM_PER_CM):.1f} cm"
    )
