"""Days kept on the trees for a job that was asked about: whose, until when, for which ticket.

A row goes, with its bookings, when its boots are in the plan themselves or its days have run out.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Store


class PromisedSlot(NamedTuple):
    """sides: "pair", "left" or "right". kept_until: the last day it is kept without a ticket.

    ready_day: the day that was said; ticket_id: of the ticket that was made from it.
    """

    id: int
    name: str
    leather: str
    sides: str
    needed_by: str | None
    rush: int
    ready_day: str
    kept_until: str
    ticket_id: int | None


def everything(store: Store) -> list[PromisedSlot]:
    return store.all(PromisedSlot, "SELECT * FROM promised_slots ORDER BY id")


def get(store: Store, slot_id: int) -> PromisedSlot | None:
    """None where its days have run out, or its boots are in the plan themselves."""
    return store.first(PromisedSlot, "SELECT * FROM promised_slots WHERE id = ?", slot_id)


def of_ticket(store: Store, ticket_id: int) -> PromisedSlot | None:
    sql = "SELECT * FROM promised_slots WHERE ticket_id = ? ORDER BY id DESC"
    return store.first(PromisedSlot, sql, ticket_id)


def drop(store: Store, slot_id: int) -> None:
    """Gives its trees back, inside a write."""
    store.db.execute("DELETE FROM bookings WHERE slot_id = ?", [slot_id])
    store.db.execute("DELETE FROM promised_slots WHERE id = ?", [slot_id])


def drop_expired(store: Store, today: str) -> None:
    """Gives the trees back that were kept until a day before this one, inside a write."""
    for one in everything(store):
        if one.kept_until < today:
            drop(store, one.id)


def book_for(store: Store, slot_id: int, side: str, item_id: int) -> None:
    """Makes the trees kept for one side the planned ones of a boot, inside a write."""
    sql = (
        "UPDATE bookings SET kind = 'planned', item_id = ?, words = '', slot_id = NULL,"
        " slot_side = '' WHERE slot_id = ? AND slot_side = ?"
    )
    store.db.execute(sql, [item_id, slot_id, side])
