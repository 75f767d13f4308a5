"""Something went wrong: the item stops, a record is opened of it, told, agreed and settled."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any, NamedTuple

from fitcounter.desk.common import two_people_changed
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds.round_rows import bench_step, running_round
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import BadInput
from fitcounter.store import findings, items, plans
from fitcounter.store.bench_records import Incident
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

YES = "y"  # of a box that is ticked


def unsettled(store: Store, item: Item) -> int | None:
    """The record of what went wrong that still has to be settled before a stopped item goes on."""
    if item.state != "stopped":
        return None
    records = findings.incidents_of_item(store, item.id)
    return next((record.id for record in records if record.settled_at is None), None)


def stop(
    store: Store, act: Act, item_id: int, step_input: StepInput, what: str, where_on: str = ""
) -> Written:
    """Something went wrong: the item stops, and a record is opened of what happened, to be told and
    settled.

    what, where_on: free words; they stay out of the audit. A boot on a tree comes off it.
    """
    if not what.strip():
        raise BadInput(say("Type what went wrong, in a few words."), field="what")

    return bench_step(
        store,
        act,
        item_id,
        "stop",
        step_input,
        lambda item, writes: write_stop(act, writes, step_input.happened_at, what, where_on),
    )


def write_stop(act: Act, writes: Writes, at: datetime, what: str, where_on: str) -> dict[str, Any]:
    """The writes of stopping an item, inside a step; returns the step's detail."""
    store, item = writes.store, writes.item
    if "on-tree" in (item.state, item.state_before if item.state == "waiting" else ""):
        running = running_round(writes, item)
        writes.change("rounds", running.id, off_at=utc_text(at), outcome="stopped")
    tree_bookings.release(store, item)
    plans.drop_planned(store, item.id)
    opened = {
        "opened_at": utc_text(at),
        "what": what,
        "where_on": where_on,
        "staff_id": act.staff_id,
    }
    return {"incident": writes.insert("incidents", item_id=item.id, **opened)}


def as_typed(incident: Incident) -> dict[str, str]:
    """A record as its form shows it, by field; YES for what is ticked."""
    return {
        "told": YES if incident.told_at else "",
        "agreed": incident.agreed,
        "settled": YES if incident.settled_at else "",
    }


class IncidentInput(NamedTuple):
    """A record as typed. version: of the one that was looked at, None for any.

    was: how `as_typed` showed it to this person; what somebody else changed since stays, and of
    the agreed text both are kept. Without it the record must have the version.
    """

    told: bool
    agreed: str
    settled: bool
    version: int | None = None
    was: Mapping[str, str] | None = None

    @property
    def fields(self) -> dict[str, str]:
        return {
            "told": YES if self.told else "",
            "agreed": self.agreed,
            "settled": YES if self.settled else "",
        }


def settle(store: Store, act: Act, incident_id: int, typed: IncidentInput) -> Written:
    """What was done about it: whether the customer was told, what was agreed, whether that is the
    end of it. Raises Conflict.
    """

    def write() -> Written:
        incident = findings.get_incident(store, incident_id)
        mine, now, seen = typed.fields, as_typed(incident), typed.version
        if typed.was is not None:
            mine = now | two_people_changed.merged(typed.was, now, mine, ("agreed",))[0]
            seen = None
        told_at, settled_at = (
            (before or utc_text(act.at)) if mine[name] else None
            for name, before in (("told", incident.told_at), ("settled", incident.settled_at))
        )
        store.change(
            "incidents",
            incident_id,
            incident.version if seen is None else seen,
            told_at=told_at,
            agreed=mine["agreed"],
            settled_at=settled_at,
        )
        item = items.get(store, incident.item_id)
        detail = {"told": bool(mine["told"]), "settled": bool(mine["settled"])}
        return Written(item.ticket_id, item.id, incident_id, detail=detail)

    return store.once(act, "incident-settled", write)
