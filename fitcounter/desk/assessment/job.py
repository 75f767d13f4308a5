"""A fit as the computation reads it: the stored rows of a pair, written as the job that fit.assess
takes.

Texts go in as they were typed, with their unit, so that an inch stays an exact inch all the way.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import groupby
from typing import Any

from fitcounter.errors import BadReading
from fitcounter.fit.assessment.legs import LAYERS
from fitcounter.fit.handbook import leg as leg_book
from fitcounter.fit.handbook import rounds as rounds_book
from fitcounter.fit.handbook.load import ZIP_LATERAL_N
from fitcounter.fit.tape import parse_length
from fitcounter.store import findings, readings, rounds
from fitcounter.store.bench_records import Round, Turn
from fitcounter.store.database import Store, utc_time
from fitcounter.store.readings import BroughtIn
from fitcounter.store.records import BootReading, Finding, Fit, GapReading, Item, LegReading

Records = Mapping[str, Mapping[str, float]]
SECONDS_AN_HOUR = 3600


def mm(um: int) -> float:
    return um / leg_book.UM_PER_MM


def build_job(
    store: Store,
    fit: Fit,
    items: Sequence[Item],
    records: Records | None = None,
    tree_max_mm: float | None = None,
    read: BroughtIn | None = None,
) -> dict[str, Any]:
    """The job of a fit from its rows. items: its boots that are here; records: the shop's own kept
    fractions by leather; read: what was read of it, where that is not yet what is stored.
    """
    read = read or readings.brought_in(store, fit.id)
    seen, turned = findings.of_fit(store, fit.id), rounds.of_fit(store, fit.id)
    boots = [_boot(item) for item in items]
    return {
        "unit": fit.unit,
        "leg": {
            "posture": fit.posture,
            "over": fit.over if fit.over in LAYERS else "skin",
            "layer_mm": mm(fit.layer_um),
            "time": fit.part_of_day,
            "marked": bool(fit.marked),
            "on_block": bool(fit.on_block),
        },
        "ease": fit.ease if fit.ease_um is None else {"mm": mm(fit.ease_um)},
        "limits": fit.limits,
        "boot": boots[0],
        **{
            str(item.side): {
                **_read(read, item),
                "findings": _words(seen[item.id]),
                "rounds": _rounds(store, turned[item.id]),
                "differs": {key: value for key, value in own.items() if value != boots[0][key]},
            }
            for item, own in zip(items, boots, strict=True)
        },
        "hold_h": fit.hold_h,
        "max_rounds": fit.max_rounds,
        "tree_max_mm": tree_max_mm,
        "records": {code: dict(one) for code, one in (records or {}).items()},
    }


def measured(store: Store, items: Sequence[Item]) -> list[Item]:
    """The boots of a fit that were read; one that was not stays as it is."""
    found = readings.read_items(store, [item.id for item in items])
    return [item for item in items if item.id in found]


@lru_cache(
    maxsize=2048
)  # the same texts come back all day, and one sheet asks for each of its own four times
def with_unit(text: str, unit: str, um: int) -> str:
    """A stored text that says its own unit, whatever unit the page is in now."""
    try:
        own = parse_length(text, "mm", zero_ok=True).unit
        if own == parse_length(text, "in", zero_ok=True).unit:
            return text
        if len(text) + len(unit) < leg_book.LONGEST_TEXT:
            return f"{text} {unit}"
    except (
        BadReading
    ):  # 1,625 is asked again in inches and plain in mm: the stored figure says what was meant
        pass
    return f"{mm(um):g} mm"


def _boot(item: Item) -> dict[str, Any]:
    return {
        "material": item.material,
        "lining": item.lining,
        "age": item.age,
        "signed_off": bool(item.signed_off),
        "thickness_mm": mm(item.thickness_um),
        "lining_mm": mm(item.lining_um),
        "wall_mm": mm(item.wall_um),
        "method": item.method,
        "heights_from": item.heights_from,
        "seat_mm": mm(item.seat_um),
        "shaft_mm": mm(item.shaft_um),
        "rise_mm": mm(item.rise_um),
        "zip": _zip(item),
        "elastic": _elastic(item),
        "rigid": [
            {
                "name": one["name"],
                "width_mm": mm(one["width_um"]),
                "from_mm": mm(one["from_um"]),
                "to_mm": mm(one["to_um"]),
            }
            for one in json.loads(item.rigid)
        ],
        "throat_mm": None if item.throat_um is None else mm(item.throat_um),
    }


def _zip(item: Item) -> dict[str, Any] | None:
    if not item.zip:
        return None
    held = json.loads(item.zip)
    lateral = held.get("lateral_n_per_25mm", ZIP_LATERAL_N)
    span = {"from_mm": mm(held["from_um"]), "to_mm": mm(held["to_um"])}
    return {
        "band_mm": mm(held["band_um"]),
        **span,
        "state": held["state"],
        "lateral_n_per_25mm": lateral,
    }


def _elastic(item: Item) -> dict[str, Any] | None:
    if not item.elastic:
        return None
    held = json.loads(item.elastic)
    return {
        "width_mm": mm(held["width_um"]),
        "from_mm": mm(held["from_um"]),
        "to_mm": mm(held["to_um"]),
    }


def _read(read: BroughtIn, item: Item) -> dict[str, Any]:
    """What was asked and read of one side."""
    legs = [one for one in read.legs if one.side == item.side]
    return {
        "target": "amount" if item.target == "safe" else item.target,
        "leg": _legs(legs),
        "boot": _boots(read.boots[item.id]),
        "gaps": _asked(read.gaps[item.id, "gap"], "gap"),
        "amounts": _asked(read.gaps[item.id, "amount"], "amount"),
        "heel": None if item.heel_um is None else f"{mm(item.heel_um):g} mm",
    }


def _words(seen: Sequence[Finding]) -> list[str]:
    return list(dict.fromkeys(one.word for one in seen))


def _legs(held: Sequence[LegReading]) -> list[dict[str, Any]]:
    found = []
    for height_um, group in groupby(held, key=lambda one: one.height_um):
        rows = list(group)
        girths = [with_unit(one.girth_text, one.unit, one.girth_um) for one in rows]
        found.append(
            {
                "station": rows[0].station or "none",
                "height": with_unit(rows[0].height_text, rows[0].unit, height_um),
                "girth": girths,
            }
        )
    return found


def _boots(held: Sequence[BootReading]) -> list[dict[str, Any]]:
    found = []
    for height_um, group in groupby(held, key=lambda one: one.height_um):
        rows = list(group)
        girths = [with_unit(one.girth_text, one.unit, one.girth_um) for one in rows]
        found.append(
            {"height": with_unit(rows[0].height_text, rows[0].unit, height_um), "girth": girths}
        )
    return found


def _asked(held: Sequence[GapReading], key: str) -> list[dict[str, Any]]:
    found = []
    for height_um, group in groupby(held, key=lambda one: one.height_um):
        rows = list(group)
        read = [with_unit(one.gap_text, one.unit, one.gap_um) for one in rows]
        found.append(
            {
                "height": with_unit(rows[0].height_text, rows[0].unit, height_um),
                key: read[0] if len(read) == 1 else read,
            }
        )
    return found


def _rounds(store: Store, held: Sequence[Round]) -> list[dict[str, Any]]:
    """The rounds with a reading before and a rested one by the same method; without a rested one
    only as the last, running.

    A round that was rested and not read on the tree, or by another method there, grew the boot and
    tells no kept fraction.
    """
    found = []
    for one in held:
        turn = _opened(one, rounds.turns(store, one.id))
        unread = one.rested_um is None or not one.rested_counts
        if (
            one.before_um is None
            or one.rested_method not in ("", one.method)
            or (unread and (one is not held[-1] or turn is None))
        ):
            continue
        found.append(_round(one, turn))
    return found


def _opened(one: Round, turns: Sequence[Turn]) -> Turn | None:
    """The last turn that was read on the tree; None where none was, or it opened nothing."""
    last = next((turn for turn in reversed(turns) if turn.girth_um is not None), None)
    return last if last is not None and (last.girth_um or 0) > (one.before_um or 0) else None


def _round(one: Round, turn: Turn | None) -> dict[str, Any]:
    rested = (
        None
        if one.rested_um is None or not one.rested_counts
        else with_unit(one.rested_text, one.rested_unit, one.rested_um)
    )
    return {
        "before": with_unit(one.before_text, one.before_unit, one.before_um or 0),
        "on_tree": (
            None if turn is None else with_unit(turn.girth_text, turn.unit, turn.girth_um or 0)
        ),
        "rested": rested,
        "method": one.method,
        "hold_h": _held_h(one, turn),
        "prepared": one.prepared,
    }


def _held_h(one: Round, turn: Turn | None) -> float:
    """Hours from the last turn that was read to the taking off; a running round counts to the hour
    it is due.
    """
    begun, end = one.on_at if turn is None else turn.at, one.off_at or one.due_off_at
    if begun is None or end is None:
        return rounds_book.HOLD_H
    hours = (utc_time(end) - utc_time(begun)).total_seconds() / SECONDS_AN_HOUR
    return min(max(1.0, hours), rounds_book.LONGEST_HOLD_H)
