"""One person entered twice: suggested by number, e-mail and name, looked at side by side, and made
one. It can be undone for a while.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.customer import details
from fitcounter.desk.quote.agree import TWO_PEOPLE
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.store import customers, erasing, mails, merges, search, tickets
from fitcounter.store.database import Act, Store, Written, utc_time
from fitcounter.store.records import Customer, Ticket

UNDO_DAYS = merges.UNDO_DAYS
SAME = marked("This is the same customer already. Nothing was changed.")
FILLED = ("phone_typed", "phone_e164", "phone_last4")


class CustomerEntry(NamedTuple):
    """One entry of a customer with all its tickets, the newest first."""

    customer: Customer
    tickets: tuple[Ticket, ...]

    @property
    def open_numbers(self) -> list[int]:
        return sorted(one.number for one in self.tickets if one.state == "open")


class MergePage(NamedTuple):
    """The entry of the ticket and the other one. stamp: of all that stands on the page."""

    ticket: Ticket
    entries: tuple[CustomerEntry, CustomerEntry]
    stamp: str

    @property
    def open_numbers(self) -> list[int]:
        """Of both, where both have open work; else none."""
        mine, other = (one.open_numbers for one in self.entries)
        return [*mine, *other] if mine and other else []


class Suggestions(NamedTuple):
    """Entries that may be the same person: alike, and those that a name finds. undo: what the last
    merge can be undone until, None where there is none; name: what the other entry was called.
    """

    ticket: Ticket
    customer: Customer
    alike: tuple[CustomerEntry, ...]
    found: tuple[CustomerEntry, ...]
    undo: date | None
    name: str


class MergeInput(NamedTuple):
    """keep: the id of the customer whose details stay. stamp: of the page that was looked at, ""
    for any. sure: that both with open work are one person.
    """

    keep: int
    stamp: str = ""
    sure: bool = False


def suggestions(store: Store, shop: Shop, ticket_id: int, typed: str = "") -> Suggestions:
    """typed: a name to look for beside those that are alike. Raises NotFound."""
    ticket, customer = details.look(store, ticket_id)
    alike = merges.alike(store, customer)
    known = {customer.id, *(one.id for one in alike)}
    found = [one for one in search.by_words(store, typed) if one.id not in known] if typed else []
    last = merges.last(store, customer.id)
    until = shop.today(utc_time(last.at)) + timedelta(days=UNDO_DAYS) if last else None
    return Suggestions(
        ticket,
        customer,
        _entries(store, alike),
        _entries(store, found),
        until,
        merges.name_before(last) if last else "",
    )


def _entries(store: Store, several: Sequence[Customer]) -> tuple[CustomerEntry, ...]:
    return tuple(CustomerEntry(one, tuple(tickets.of_customer(store, one.id))) for one in several)


def look(store: Store, ticket_id: int, other_id: int) -> MergePage:
    """Both entries side by side. Raises NotFound; Conflict where they are one already."""
    ticket, mine = details.look(store, ticket_id)
    other = customers.get(store, other_id)
    if other.id == mine.id or (
        other.erased_at and other.id in [one for one, _ in merges.merged_into(store, mine.id)]
    ):
        raise Conflict(say(SAME), ticket_id=ticket_id)
    if other.erased_at is not None:
        raise NotFound(say("This customer’s data was erased, so there is nothing to change."))
    first, second = _entries(store, (mine, other))
    held = [(mine.id, mine.version), (other.id, other.version)]
    held += [(one.id, one.version) for entry in (first, second) for one in entry.tickets]
    return MergePage(ticket, (first, second), json.dumps(sorted(held)))


def merge(store: Store, act: Act, ticket_id: int, other_id: int, typed: MergeInput) -> Written:
    """Makes two entries one: all tickets are the kept one's, what it has not is filled in from the
    other, both notes are kept, and who wanted no e-mails still wants none.

    Raises BadInput (field: keep, sure), Conflict (somebody changed one of them since), NotFound.
    """

    def write() -> Written:
        page = look(store, ticket_id, other_id)
        if typed.stamp not in ("", page.stamp):
            raise Conflict(say(TWO_PEOPLE))
        whose = {one.customer.id: one.customer for one in page.entries}
        if typed.keep not in whose:
            raise BadInput(say("Pick whose details stay."), field="keep")
        if page.open_numbers and not typed.sure:
            words = say("Both have open work. Tick this if they are the same person.")
            raise BadInput(words, field="sure")
        kept = whose.pop(typed.keep)
        gone = next(iter(whose.values()))
        erasing.mark_drafts(store, gone.id)
        moved = merges.merge(store, act, kept, gone, filled(kept, gone))
        if mails.is_stopped(store, gone.id):
            mails.stop(store, kept.id, act.at)
        return Written(
            ticket_id,
            words=say("{name} is one customer now, with all tickets.", name=kept.name),
            detail={"kept": kept.id, "gone": gone.id, "tickets": moved},
        )

    return store.once(act, "customers-merged", write)


def filled(kept: Customer, gone: Customer) -> dict[str, object]:
    """Columns of the kept one: its own, else the other's; both notes, each once."""
    columns: dict[str, object] = {}
    if not kept.phone_typed and gone.phone_typed:
        columns |= {name: getattr(gone, name) for name in FILLED}
    if not kept.email and gone.email:
        columns["email"] = gone.email
    if gone.note and gone.note not in kept.note:
        columns["note"] = f"{kept.note}\n{gone.note}".strip()
    return columns


def undo(store: Store, act: Act, ticket_id: int) -> Written:
    """Parts what was merged last. Raises Conflict where nothing can be undone any more."""

    def write() -> Written:
        _, customer = details.look(store, ticket_id)
        last = merges.last(store, customer.id)
        if last is None:
            raise Conflict(
                say("Nothing to undo here: it was undone already, or is too long ago."),
                ticket_id=ticket_id,
            )
        back = merges.undo(store, act, last)
        return Written(
            ticket_id,
            words=say("They are two customers again, each with the tickets of before."),
            detail={"kept": last.kept_id, "gone": last.gone_id, "tickets": back},
        )

    return store.once(act, "customers-parted", write)
