"""Follow-ups after pickup: the list the shop works through, and its answers."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput, OutOfOrder
from fitcounter.store import contacts, customers, tickets
from fitcounter.store.bench_records import FollowUp
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Customer, Ticket


class FollowUpLine(NamedTuple):
    """One line of the follow-up list, with its ticket and customer."""

    due: FollowUp
    ticket: Ticket
    customer: Customer


def due_by(store: Store, day: date) -> list[FollowUpLine]:
    """Every open follow-up due by that shop-local day: complaints first, then by day."""
    lines = []
    for follow_up in contacts.due_follow_ups(store, day):
        ticket = tickets.get(store, follow_up.ticket_id)
        lines.append(FollowUpLine(follow_up, ticket, customers.get(store, ticket.customer_id)))
    return sorted(lines, key=lambda line: (line.due.kind != "not-right", line.due.due_day))


def answer(store: Store, act: Act, follow_up_id: int, words: str) -> Written:
    """Saves what the customer answered and takes the line off the list.

    Raises BadInput without words, NotFound, Conflict where it has another answer already;
    OutOfOrder for what does not feel right: that wants a person's advice.
    """
    if not words:
        raise BadInput(say("Pick or type the answer: good, tight, or coming back."), field="answer")

    if contacts.follow_up_kind(store, follow_up_id) == "not-right":
        raise OutOfOrder(say("Boots are off until somebody answers. Open the report and answer."))

    def write() -> Written:
        ticket_id = contacts.close_follow_up(store, act, follow_up_id, words)
        return Written(ticket_id, row_id=follow_up_id, detail={"follow_up": follow_up_id})

    return store.once(act, "follow-up", write)
