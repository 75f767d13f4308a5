"""Wearing-in calendars: the plan's choices in one row, its log of wears in another table, written
whole each time.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date, datetime
from typing import Any, NamedTuple

from fitcounter.errors import NotFound, message
from fitcounter.fit.wear.wear import Wear, WearRules
from fitcounter.fit.wear.wear_plan import WearPlan
from fitcounter.store.bench_records import WearPlanRow, WearRow
from fitcounter.store.database import Store, utc_text, utc_time


class Undoable(NamedTuple):
    """The last change of a calendar: which, when, and the plan before it."""

    event: str
    at: datetime
    plan: WearPlan


def of_ticket(store: Store, ticket_id: int) -> WearPlanRow | None:
    return store.first(WearPlanRow, "SELECT * FROM wear_plans WHERE ticket_id = ?", ticket_id)


def get(store: Store, ticket_id: int) -> tuple[WearPlanRow, WearPlan]:
    """The row and the plan as it was last written. Raises NotFound."""
    row = of_ticket(store, ticket_id)
    if row is None:
        raise NotFound(
            message("This job has no calendar yet. It starts when the boots are picked up.")
        )
    sql = "SELECT * FROM wears WHERE plan_id = ? ORDER BY position"
    return row, _plan(asdict(row), [asdict(one) for one in store.all(WearRow, sql, row.id)])


def add(store: Store, ticket_id: int, plan: WearPlan, language: str) -> int:
    """A new calendar, inside a write. A ticket has one; the one it had is replaced, and what was
    worn by it is kept beside.
    """
    held = of_ticket(store, ticket_id)
    if held is not None:
        store.db.execute(
            "INSERT INTO earlier_wears (plan_id, picked_up_at, n, minutes, local_day,"
            " actual_start_at, actual_minutes) SELECT plan_id, ?, n, minutes, local_day,"
            " actual_start_at, actual_minutes FROM wears WHERE plan_id = ? AND state = 'worn'",
            [held.picked_up_at, held.id],
        )
        write(store, held, plan)
        return held.id
    row_id = store.insert("wear_plans", ticket_id=ticket_id, language=language, **_columns(plan))
    _write_wears(store, row_id, plan)
    return row_id


def write(store: Store, row: WearPlanRow, plan: WearPlan) -> None:
    """Writes the plan over the row, inside a write; the sequence goes up, so that phone calendars
    take the new dates.
    """
    store.change("wear_plans", row.id, row.version, sequence=row.sequence + 1, **_columns(plan))
    store.db.execute("DELETE FROM wears WHERE plan_id = ?", [row.id])
    _write_wears(store, row.id, plan)


def undoable(row: WearPlanRow) -> Undoable | None:
    """What the last change took the place of; None where something else came after it."""
    kept = json.loads(row.before) if row.before else None
    if kept is None or kept["sequence"] != row.sequence:
        return None
    return Undoable(kept["event"], utc_time(kept["at"]), _plan(kept["plan"], kept["wears"]))


def keep_before(store: Store, row: WearPlanRow, plan: WearPlan, event: str, at: datetime) -> None:
    """Keeps the plan as it was before a change that has just been written, inside the same write.

    row: as it was then.
    """
    kept = {
        "event": event,
        "at": utc_text(at),
        "sequence": row.sequence + 1,
        "plan": _columns(plan),
        "wears": [_wear_columns(wear) for wear in plan.wears],
    }
    store.db.execute("UPDATE wear_plans SET before = ? WHERE id = ?", [json.dumps(kept), row.id])


def _plan(row: Mapping[str, Any], wears: Sequence[Mapping[str, Any]]) -> WearPlan:
    rules = json.loads(row["rules"])
    return WearPlan(
        zone=row["zone"],
        hour=row["hour"],
        minute=row["minute"],
        rules=WearRules(
            tuple(rules["minutes"]),
            rules["rest_h"],
            row["rest_from"],
            rules["free_day_between"],
            row["preset"],
        ),
        picked_up=utc_time(row["picked_up_at"]),
        off_tree_at=utc_time(row["off_tree_at"]),
        wears=tuple(_wear(one) for one in wears),
        ordinary_from=date.fromisoformat(row["ordinary_from"]),
        first_whole_day=date.fromisoformat(rules["first_whole_day"]),
        notes=tuple(rules["notes"]),
        held_since=None if row["held_since"] is None else utc_time(row["held_since"]),
        resumes_on=None if row["resumes_on"] is None else date.fromisoformat(row["resumes_on"]),
        boots=row["boots"],
    )


def _columns(plan: WearPlan) -> dict[str, object]:
    rules = {
        "minutes": list(plan.rules.minutes),
        "rest_h": plan.rules.rest_h,
        "free_day_between": plan.rules.free_day_between,
        "first_whole_day": plan.first_whole_day.isoformat(),
        "notes": list(plan.notes),
    }
    return {
        "zone": plan.zone,
        "hour": plan.hour,
        "minute": plan.minute,
        "preset": plan.rules.preset,
        "rest_from": plan.rules.rest_from,
        "rules": json.dumps(rules),
        "picked_up_at": utc_text(plan.picked_up),
        "off_tree_at": utc_text(plan.off_tree_at),
        "ordinary_from": plan.ordinary_from.isoformat(),
        "held_since": None if plan.held_since is None else utc_text(plan.held_since),
        "resumes_on": None if plan.resumes_on is None else plan.resumes_on.isoformat(),
        "boots": plan.boots,
    }


def _write_wears(store: Store, plan_id: int, plan: WearPlan) -> None:
    for position, wear in enumerate(plan.wears):
        store.insert("wears", plan_id=plan_id, position=position, **_wear_columns(wear))


def _wear_columns(wear: Wear) -> dict[str, object]:
    return {
        "n": wear.n,
        "start_at": utc_text(wear.start),
        "end_at": utc_text(wear.end),
        "minutes": wear.minutes,
        "local_day": wear.local_day.isoformat(),
        "state": wear.state,
        "actual_start_at": None if wear.actual_start is None else utc_text(wear.actual_start),
        "actual_minutes": wear.actual_minutes,
    }


def _wear(row: Mapping[str, Any]) -> Wear:
    started = None if row["actual_start_at"] is None else utc_time(row["actual_start_at"])
    return Wear(
        row["n"],
        utc_time(row["start_at"]),
        utc_time(row["end_at"]),
        row["minutes"],
        date.fromisoformat(row["local_day"]),
        row["state"],
        started,
        row["actual_minutes"],
    )
