"""Phones that get messages: a customer's for one ticket, or one of the staff's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from fitcounter.store.database import Store, utc_text

MOST = 5  # of one ticket or one person; one more takes the place of the oldest
_OPEN = "SELECT * FROM push_phones WHERE ended_at IS NULL"


class PushPhone(NamedTuple):
    """ticket_id: of a customer's phone; staff_id: of whose it is at the shop, phone_id: where it is
    one of the shop's own. endpoint, p256dh, auth: as the browser gave them, "" once it ended.
    """

    id: int
    ticket_id: int | None
    staff_id: int | None
    phone_id: int | None
    endpoint: str
    p256dh: str
    auth: str
    language: str
    since: str
    ended_at: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPushPhone:
    ticket_id: int | None = None
    staff_id: int | None = None
    phone_id: int | None = None
    endpoint: str
    p256dh: str
    auth: str
    language: str = ""


def add(store: Store, phone: NewPushPhone, at: datetime) -> int:
    """Takes one in, inside a write; the same one again stays the one it is."""
    held = store.first(PushPhone, f"{_OPEN} AND endpoint = ?", phone.endpoint)
    whose = (phone.ticket_id, phone.staff_id)
    if held is not None and (held.ticket_id, held.staff_id) == whose:
        store.change(
            "push_phones",
            held.id,
            None,
            phone_id=phone.phone_id,
            p256dh=phone.p256dh,
            auth=phone.auth,
            language=phone.language,
        )
        return held.id
    if held is not None:
        end(store, held.id, at)
    same = of_ticket(store, phone.ticket_id) if phone.ticket_id else of_staff(store)
    mine = [one for one in same if one.staff_id == phone.staff_id]
    for one in mine[: max(0, len(mine) - MOST + 1)]:
        end(store, one.id, at)
    return store.insert(
        "push_phones",
        ticket_id=phone.ticket_id,
        staff_id=phone.staff_id,
        phone_id=phone.phone_id,
        endpoint=phone.endpoint,
        p256dh=phone.p256dh,
        auth=phone.auth,
        language=phone.language,
        since=utc_text(at),
    )


def get(store: Store, push_phone_id: int) -> PushPhone | None:
    """One that still gets messages."""
    return store.first(PushPhone, f"{_OPEN} AND id = ?", push_phone_id)


def of_ticket(store: Store, ticket_id: int) -> list[PushPhone]:
    """Oldest first."""
    return store.all(PushPhone, f"{_OPEN} AND ticket_id = ? ORDER BY id", ticket_id)


def of_staff(store: Store) -> list[PushPhone]:
    """Those of people who are at the shop, but on a phone that was the shop's; oldest first."""
    return store.all(
        PushPhone,
        f"{_OPEN} AND staff_id IN (SELECT id FROM staff WHERE active = 1) AND (phone_id IS NULL"
        " OR phone_id IN (SELECT id FROM phones WHERE struck_at IS NULL)) ORDER BY id",
    )


def tickets_with(store: Store) -> list[int]:
    """The tickets that have one."""
    rows = store.rows(
        "SELECT DISTINCT ticket_id AS id FROM push_phones WHERE ended_at IS NULL AND ticket_id IS"
        " NOT NULL ORDER BY ticket_id"
    )
    return [int(row["id"]) for row in rows]


def count(store: Store) -> int:
    return int(store.value("SELECT count(*) FROM push_phones WHERE ended_at IS NULL"))


def end(store: Store, push_phone_id: int, at: datetime) -> None:
    """It gets nothing any more, inside a write: neither its address nor its keys are kept."""
    store.db.execute(
        "UPDATE push_phones SET ended_at = ?, endpoint = '', p256dh = '', auth = '' WHERE id = ?"
        " AND ended_at IS NULL",
        [utc_text(at), push_phone_id],
    )
    store.db.execute(
        "UPDATE pushes SET state = 'dropped', done_at = ? WHERE push_phone_id = ? AND state ="
        " 'waiting'",
        [utc_text(at), push_phone_id],
    )


def end_of_ticket(store: Store, ticket_id: int, at: datetime) -> int:
    """How many ended, inside a write."""
    held = of_ticket(store, ticket_id)
    for one in held:
        end(store, one.id, at)
    return len(held)
