"""Calls, texts and letters about a ticket, and what the shop owes a customer after pickup."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date
from typing import NamedTuple

from fitcounter.errors import Conflict, NotFound, message
from fitcounter.store.bench_records import FollowUp, WearAdvice
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.lists import CallRecord
from fitcounter.store.records import Ticket


def calls_of_ticket(store: Store, ticket_id: int) -> list[CallRecord]:
    """Oldest first."""
    return store.all(
        CallRecord,
        "SELECT ticket_id, about, how, at, again_day, moved_from, moved_to FROM calls"
        " WHERE ticket_id = ? ORDER BY id",
        ticket_id,
    )


class CallNote(NamedTuple):
    """A call with what was written about it, and by whom."""

    at: str
    how: str
    note: str
    staff_id: int | None


def calls_noted(store: Store, ticket_id: int) -> list[CallNote]:
    """Oldest first."""
    return store.all(
        CallNote,
        "SELECT at, how, note, staff_id FROM calls WHERE ticket_id = ? ORDER BY id",
        ticket_id,
    )


def promise_moves(store: Store, ticket_id: int) -> list[CallRecord]:
    """The calls in which the promised day moved, oldest first."""
    return [one for one in calls_of_ticket(store, ticket_id) if one.moved_from]


def first_promise(store: Store, ticket: Ticket) -> str | None:
    """The day that was promised before any was moved."""
    moves = promise_moves(store, ticket.id)
    return moves[0].moved_from if moves else ticket.promise_day


def said_before(store: Store, ticket: Ticket) -> str | None:
    """The day that was promised before any was moved, of what is here now: after a pickup the first
    one moved since, None where none was.
    """
    since = ticket.handed_over_at or ""
    moves = [one for one in promise_moves(store, ticket.id) if one.at > since]
    return moves[0].moved_from if moves else None if since else ticket.promise_day


def due_follow_ups(store: Store, day: date) -> list[FollowUp]:
    """Not done yet and due by that day, oldest first."""
    return store.all(
        FollowUp,
        "SELECT * FROM follow_ups WHERE done_at IS NULL AND due_day <= ? ORDER BY due_day, id",
        day.isoformat(),
    )


def follow_ups_of_ticket(store: Store, ticket_id: int) -> list[FollowUp]:
    return store.all(
        FollowUp, "SELECT * FROM follow_ups WHERE ticket_id = ? ORDER BY due_day, id", ticket_id
    )


def follow_up_kind(store: Store, follow_up_id: int) -> str:
    """Its kind, "" where there is none such."""
    return str(store.value("SELECT kind FROM follow_ups WHERE id = ?", follow_up_id) or "")


def close_follow_up(store: Store, act: Act, follow_up_id: int, answer: str) -> int:
    """Takes one off the list with its answer, inside a write; returns its ticket.

    Raises NotFound; Conflict, with the other answer, where it has one already.
    """
    found = store.first(FollowUp, "SELECT * FROM follow_ups WHERE id = ?", follow_up_id)
    if found is None:
        raise NotFound(message("This follow-up is not on the list any more."))
    if found.done_at is not None and found.answer != answer:
        theirs = {"What the customer said": found.answer}
        words = "Someone saved another answer already. Save yours as a call on the ticket."
        raise Conflict(words, theirs=theirs, ticket_id=found.ticket_id)
    store.change(
        "follow_ups", follow_up_id, done_at=utc_text(act.at), answer=answer, staff_id=act.staff_id
    )
    return found.ticket_id


@dataclass(frozen=True, slots=True)
class Remark:
    """What a follow-up is about: side and place on the boot, what was said and felt, each where it
    is known.
    """

    side: str | None = None
    place: str = ""
    said: str = ""
    felt: str = ""


NO_REMARK = Remark()


def add_follow_up(
    store: Store,
    ticket_id: int,
    due_day: date,
    kind: str,
    remark: Remark = NO_REMARK,
) -> int:
    """Adds one, inside a write. kind: after-pickup, not-right, overlong or other."""
    row = {"ticket_id": ticket_id, "due_day": due_day.isoformat(), "kind": kind}
    return store.insert("follow_ups", **row, **asdict(remark))


def close_overlong(store: Store, act: Act, ticket_id: int, since: str) -> None:
    """Takes what a wear told at `since` (UTC text) put on the list off it, inside a write."""
    store.db.execute(
        "UPDATE follow_ups SET done_at = ?, answer = 'taken back' WHERE ticket_id = ? AND kind ="
        " 'overlong' AND done_at IS NULL AND id = (SELECT max(id) FROM follow_ups WHERE ticket_id"
        " = ? AND kind = 'overlong' AND due_day >= date(?, '-1 day'))",
        [utc_text(act.at), ticket_id, ticket_id, since],
    )


def advice_of_ticket(store: Store, ticket_id: int) -> list[WearAdvice]:
    """What the shop answered to what did not feel right, oldest first."""
    sql = "SELECT * FROM wear_advice WHERE ticket_id = ? ORDER BY id"
    return store.all(WearAdvice, sql, ticket_id)


def add_advice(
    store: Store, act: Act, ticket_id: int, advice: str, from_day: date | None, note: str
) -> int:
    """Adds an answer, inside a write."""
    return store.insert(
        "wear_advice",
        ticket_id=ticket_id,
        at=utc_text(act.at),
        advice=advice,
        from_day=from_day.isoformat() if from_day else None,
        note=note,
        staff_id=act.staff_id,
    )
