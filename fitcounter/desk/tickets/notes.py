"""What people wrote about a ticket and what they changed on it, newest first: calls with their
notes, what was asked for and is not done here, prices, cancellations, pickups, details.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from fitcounter.desk.common.how_they_were_told import call_words
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.common.usual_work import work_name
from fitcounter.desk.tickets.price_change import YES
from fitcounter.store import contacts, items, staff, tickets, tills, works
from fitcounter.store.database import Store
from fitcounter.store.records import Item

# Fields of a customer, as the audit names them.
FIELDS = {
    "name": marked("name"),
    "phone_typed": marked("phone number"),
    "email": marked("e-mail"),
    "language": marked("language"),
    "note": marked("note"),
}
# Acts on a ticket that leave no row of their own.
ACTS = {
    "comes-twice": marked("The rest will be picked up later"),
    "cancel-undone": marked("Cancellation undone"),
    "customers-merged": marked("Merged with a second entry of the customer"),
    "customers-parted": marked("Merging undone"),
    "link-new": marked("New link for the customer"),
    "link-taken-back": marked("Link closed"),
}


class NoteLine(NamedTuple):
    """at: UTC text. head: what happened; text: what was written; who: initials, "" for nobody."""

    at: str
    head: str
    text: str
    who: str


def of_ticket(store: Store, ticket_id: int) -> list[NoteLine]:
    """Newest first."""
    people = {one.id: one.initials for one in staff.with_former(store)}
    lines = [
        *_calls(store, ticket_id, people),
        *_asked(store, ticket_id, people),
        *_prices(store, ticket_id, people),
        *_pickups(store, ticket_id, people),
        *_acts(store, ticket_id, people),
    ]
    return sorted(lines, key=lambda line: line.at, reverse=True)


def _calls(store: Store, ticket_id: int, people: dict[int, str]) -> Iterator[NoteLine]:
    for one in contacts.calls_noted(store, ticket_id):
        yield NoteLine(one.at, call_words(one.how), one.note, people.get(one.staff_id or 0, ""))


def _asked(store: Store, ticket_id: int, people: dict[int, str]) -> Iterator[NoteLine]:
    """What the shop does not do, with what it said."""
    for one in works.of_ticket(store, ticket_id):
        if one.answer:
            text = f"{work_name(one.what)}. {work_name(one.answer)}"
            who = people.get(one.staff_id or 0, "")
            yield NoteLine(one.asked_at, say("Asked for, not done here"), text, who)


def _prices(store: Store, ticket_id: int, people: dict[int, str]) -> Iterator[NoteLine]:
    for one in tickets.consents(store, ticket_id):
        yes = say(YES[one.how]) if one.how in YES else ""
        head = say("Price changed") if one.how else say("Price agreed")
        text = ". ".join(part for part in (one.why.rstrip("."), yes) if part)
        yield NoteLine(one.agreed_at, head, text, people.get(one.staff_id or 0, ""))


def _pickups(store: Store, ticket_id: int, people: dict[int, str]) -> Iterator[NoteLine]:
    held = {one.id: one for one in items.of_ticket(store, ticket_id)}
    for one in tills.handovers(store, ticket_id):
        went = [held[item_id] for item_id in json.loads(one.items) if item_id in held]
        head = say("Picked up by {name}", name=one.collected_by or say("no name saved"))
        yield NoteLine(one.at, head, _names(went), people.get(one.staff_id or 0, ""))


def _names(went: list[Item]) -> str:
    words = [
        say("left boot")
        if one.side == "left"
        else say("right boot")
        if one.side
        else one.description or say(one.kind)
        for one in went
    ]
    return spoken().listed(words) if words else ""


def _acts(store: Store, ticket_id: int, people: dict[int, str]) -> Iterator[NoteLine]:
    """From the log of who did what."""
    whys = [one.cancel_why for one in items.of_ticket(store, ticket_id) if one.cancel_why]
    for row in tickets.acts_on(store, ticket_id):
        who, at = people.get(row["staff_id"] or 0, ""), str(row["at"])
        detail: dict[str, Any] = json.loads(row["detail"])
        if row["what"] == "customer-changed":
            fields = [say(FIELDS[name]) for name in detail["changed"] if name in FIELDS]
            yield NoteLine(at, say("Customer details changed"), spoken().listed(fields), who)
        elif row["what"] == "cancelled":
            yield NoteLine(at, say("Cancelled"), "; ".join(dict.fromkeys(whys)), who)
        elif row["what"] in ACTS:
            yield NoteLine(at, say(ACTS[row["what"]]), "", who)
