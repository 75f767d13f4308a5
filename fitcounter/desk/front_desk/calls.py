"""Telling customers: who is to be called, in which words, and how it went.

Nothing is sent by the program itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from fitcounter.desk.common import mail, money
from fitcounter.desk.common.translation import Speech, speech
from fitcounter.desk.customer.phrases import NAMES
from fitcounter.desk.front_desk.ticket_rows import TicketRow, ready_since
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.fit import item_states
from fitcounter.store import contacts, items, tickets
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.lists import CallRecord
from fitcounter.store.records import Item

HOW = {
    "called": "Called, she knows",
    "left-word": "Left word",
    "no-answer": "No answer",
    "text": "Text sent",
    "e-mail": "E-mail sent",
    "letter": "Letter sent",
}
# After how many days it comes back on the list by itself; None where she knows: then the shop's own
# reminder days count.
AGAIN_DAYS = {"no-answer": 1, "left-word": 3, "text": 3, "e-mail": 4, "letter": 14}
USUAL_REMINDER = 7


@dataclass(frozen=True, slots=True)
class Message:
    """The words to say or send, and the addresses that open the phone's own apps with them. told:
    what was tried before, oldest first.

    email: as it stands after mailto:, "" without one.
    """

    words: str
    phone: str
    email: str
    told: Sequence[CallRecord]


def message(store: Store, row: TicketRow, shop: Shop) -> Message:
    """The answer sentence in her language: what is ready, where, until when the shop is open, what
    she owes.
    """
    words = speech(row.customer.language)
    owes = (
        words.say("You owe {sum}.", sum=money.say(row.due_minor, row.ticket.currency, shop.locale))
        if row.due_minor > 0
        else ""
    )
    text = _ready(row, shop, words) if row.ready else _partly(row, shop, words)
    told = contacts.calls_of_ticket(store, row.ticket.id)
    phone = row.customer.phone_e164 or row.customer.phone_typed
    return Message(
        " ".join(part for part in (text, owes) if part),
        phone,
        mail.in_link(row.customer.email),
        told,
    )


def _ready(row: TicketRow, shop: Shop, words: Speech) -> str:
    say = {
        "name": row.customer.name.split()[0],
        "shop": shop.name,
        "number": row.ticket.number,
        "hour": shop.closes_at,
    }
    if all(one.state == "declined" for one in row.items if one.state in item_states.READY):
        return words.say(
            "Hello {name}, what you left at {shop}, number {number}, is ready to go back as it"
            " came. We are open until {hour}.",
            **say,
        )
    return words.say(
        "Hello {name}, everything is ready for you at {shop}, number {number}. We are open until"
        " {hour}.",
        **say,
    )


def _partly(row: TicketRow, shop: Shop, words: Speech) -> str:
    """What is here, and when the rest is expected; she says whether she comes once or twice."""
    here = [one for one in row.items if one.state in item_states.READY]
    days = [
        one.promised_day or row.ticket.promise_day
        for one in row.items
        if one.state not in (*item_states.READY, *item_states.GONE)
    ]
    known = [date.fromisoformat(day) for day in days if day]
    say = {
        "name": row.customer.name.split()[0],
        "shop": shop.name,
        "number": row.ticket.number,
        "things": _things(here, words),
    }
    if not here:
        return words.say("Hello {name}, this is {shop}, about number {number}.", **say)
    if not known:
        return words.say(
            "Hello {name}, of number {number} at {shop} this is ready: {things}. The rest is not"
            " ready yet.",
            **say,
        )
    return words.say(
        "Hello {name}, of number {number} at {shop} this is ready: {things}. The rest should be"
        " ready on {day}. Come once or twice?",
        day=words.day(max(known)),
        **say,
    )


def _things(here: Sequence[Item], words: Speech) -> str:
    boots = [one for one in here if one.kind == "boot" and one.side]
    rest = [one for one in here if one not in boots]
    pair = (
        [words.say("Both boots")]
        if len(boots) == 2
        else [words.say(NAMES["boot", str(one.side)]) for one in boots]
    )
    return ", ".join(
        [*pair, *(words.say(NAMES.get((one.kind, None), "Other work")) for one in rest)]
    )


def keep(
    store: Store,
    act: Act,
    shop: Shop,
    ticket_id: int,
    how: str,
    note: str = "",
    about: str = "ready",
) -> Written:
    """How a call went.

    No answer comes back tomorrow; she knows: the shop's next reminder day. Raises BadInput.
    """
    if how not in HOW:
        raise BadInput(
            "Pick how it went: she knows, left word, or no answer.", typed=how, field="how"
        )
    today = shop.today(act.at)

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        since = ready_since(items.of_ticket(store, ticket.id), shop)
        again = (
            today + timedelta(days=AGAIN_DAYS[how])
            if how in AGAIN_DAYS
            else next_reminder(shop, since or today, today)
        )
        row = {
            "ticket_id": ticket.id,
            "at": utc_text(act.at),
            "about": about,
            "how": how,
            "again_day": again.isoformat(),
        }
        row_id = store.insert("calls", **row, staff_id=act.staff_id, note=note)
        return Written(ticket.id, row_id=row_id, detail={"how": how, "again": again.isoformat()})

    return store.once(act, "call", write)


def next_reminder(shop: Shop, since: date, today: date) -> date:
    """The shop's next reminder day after today, counted from the day all was ready; past the last
    one, as far apart as its last two.
    """
    days = shop.reminders_days or (USUAL_REMINDER,)
    ahead = next(
        (since + timedelta(days=day) for day in days if since + timedelta(days=day) > today), None
    )
    apart = days[-1] - days[-2] if len(days) > 1 else days[-1]
    return ahead or today + timedelta(days=max(1, apart))


def come_twice(store: Store, act: Act, ticket_id: int) -> Written:
    """She agreed to come twice: what is here is called about before the rest is.

    Raises NotFound, BadInput.
    """

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        if not any(one.state in item_states.READY for one in items.of_ticket(store, ticket.id)):
            raise BadInput("Nothing of it is on the shelf yet, so there is nothing to come for.")
        store.change("tickets", ticket.id, ticket.version, come_twice=1)
        return Written(ticket.id)

    return store.once(act, "comes-twice", write)


def not_fetched(rows: list[TicketRow], shop: Shop, today: date) -> list[tuple[TicketRow, int]]:
    """All here and not fetched for at least the first reminder day, with the days since it was
    ready.
    """
    first = shop.reminders_days[0] if shop.reminders_days else USUAL_REMINDER
    aged = []
    for row in rows:
        since = ready_since(row.items, shop) if row.ready else None
        if since is not None and (today - since).days >= first:
            aged.append((row, (today - since).days))
    return sorted(aged, key=lambda one: -one[1])
