"""Something went wrong: the item stops, a record is opened of it, told, agreed and settled."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fitcounter.desk.bench import tree_bookings
from fitcounter.desk.bench.round_rows import bench_step, running_round
from fitcounter.desk.common.item_steps import StepInput
from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.store import findings, items, plans
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes


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


def settle(
    store: Store,
    act: Act,
    incident_id: int,
    version: int | None,
    told: bool,
    agreed: str,
    settled: bool,
) -> Written:
    """What was done about it: whether the customer was told, what was agreed, whether that is the
    end of it.
    """

    def write() -> Written:
        incident = findings.get_incident(store, incident_id)
        told_at = (incident.told_at or utc_text(act.at)) if told else None
        settled_at = (incident.settled_at or utc_text(act.at)) if settled else None
        store.change(
            "incidents",
            incident_id,
            incident.version if version is None else version,
            told_at=told_at,
            agreed=agreed,
            settled_at=settled_at,
        )
        item = items.get(store, incident.item_id)
        return Written(
            item.ticket_id, item.id, incident_id, detail={"told": told, "settled": settled}
        )

    return store.once(act, "incident-settled", write)
