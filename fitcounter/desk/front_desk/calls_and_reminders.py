"""Telling customers: who is to be called, in which words, and how it went.

Nothing is sent by the program itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.common import contact, mail, money, shop_days
from fitcounter.desk.common.how_they_were_told import HOW
from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import Speech, marked, say, speech_at
from fitcounter.desk.front_desk import delays
from fitcounter.desk.front_desk.ticket_rows import TicketRow, ready_since, row_of
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.fit import item_states
from fitcounter.store import bills, contacts, items, tickets
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.lists import CallRecord
from fitcounter.store.records import Item

# What is ready, by kind and side; both boots are a kind of their own.
READY = {
    ("boots", None): marked("Your boots are ready (ticket {number})."),
    ("boot", "left"): marked("Your left boot is ready (ticket {number})."),
    ("boot", "right"): marked("Your right boot is ready (ticket {number})."),
    ("shoe", None): marked("Your shoes are ready (ticket {number})."),
    ("bag", None): marked("Your bag is ready (ticket {number})."),
    ("belt", None): marked("Your belt is ready (ticket {number})."),
    ("glove", None): marked("Your gloves are ready (ticket {number})."),
    ("other", None): marked("Part of your order is ready (ticket {number})."),
}
# After how many days a ticket comes back on the list by itself; not where the customer was told:
# then the shop's own reminder days count.
AGAIN_DAYS = {"no-answer": 1, "left-word": 3, "text": 3, "e-mail": 4, "letter": 14}
USUAL_REMINDER = 7


class Message(NamedTuple):
    """The words to say or send, and the addresses that open the phone's own apps with them. told:
    what was tried before, oldest first.

    sms: an address that begins with sms:, "" without a number. email: as it stands after mailto:,
    "" without one.
    """

    words: str
    phone: str
    sms: str
    email: str
    told: Sequence[CallRecord]


def message(store: Store, row: TicketRow, shop: Shop, now: datetime, link: str = "") -> Message:
    """What to say or send at `now`, in the customer's language: what is ready, when the shop is
    open, the balance, the link of their page. link: "" where none opens for them.
    """
    words = speech_at(shop, row.customer.language)
    name = row.customer.name.split()[0]
    here = [item for item in row.items if item.state in item_states.READY]
    if not here:
        sentences = [
            words.say(
                "Hi {name}, this is {shop} about ticket {number}.",
                name=name,
                shop=shop.name,
                number=row.ticket.number,
            )
        ]
    else:
        sentences = [words.say("Hi {name}, this is {shop}.", name=name, shop=shop.name)]
        if row.ready:
            sentences += [_all_here(store, row, here, words), _hours(store, shop, now, words)]
        else:
            sentences += _partly(row, here, words)
    if not row.ready:
        sentences += delays.sentences(row, words, alone=not here)
    if row.due_minor > 0 and delays.about(row) == "ready":
        balance = money.say(row.due_minor, row.ticket.currency, speech_at(shop))
        sentences.append(words.say("The balance is {amount}.", amount=balance))
    if link:
        sentences.append(words.say("See where your order is: {link}", link=link))
    told = contacts.calls_of_ticket(store, row.ticket.id)
    phone, text = row.customer.phone_e164 or row.customer.phone_typed, " ".join(sentences)
    email = mail.in_link(row.customer.email)
    return Message(text, phone, contact.sms_link(phone, text), email, told)


def _all_here(store: Store, row: TicketRow, here: Sequence[Item], words: Speech) -> str:
    """Everything is ready, or could not be done."""
    number = row.ticket.number
    if any(item.state != "declined" for item in here):
        return words.say("Everything is ready for you (ticket {number}).", number=number)
    if all(item.cancelled == "customer" for item in here):
        return words.say(
            "As you asked, we stopped. Your order is ready to pick up (ticket {number}).",
            number=number,
        )
    lines = bills.lines(store, row.ticket.id)
    if money.sums(row.ticket, lines, ()).total_minor:
        return words.say(
            "We could not do the work. Your order is ready to pick up (ticket {number}).",
            number=number,
        )
    return words.say(
        "We could not do the work. Your order is ready to pick up, no charge (ticket {number}).",
        number=number,
    )


def _hours(store: Store, shop: Shop, now: datetime, words: Speech) -> str:
    """Until when the shop is open today, or when it is open next."""
    days, local = shop_days.of_shop(store, shop), shop.local(now)
    opening = days.next_opening(local)
    opens, closes = map(words.clock, days.hours_on(opening.date()))
    if opening == local:
        return words.say("We are open until {hour}.", hour=closes)
    day = words.day(opening.date())
    return words.say(
        "We are open again on {day}, {opens} to {closes}.", day=day, opens=opens, closes=closes
    )


def _partly(row: TicketRow, here: Sequence[Item], words: Speech) -> list[str]:
    """What is ready, and when the rest is; the customer says whether to come now or once."""
    rest = (
        words.say("Come now, or pick up everything together on {day}?", day=words.day(row.when.day))
        if row.when.day and not row.when.unsure
        else words.say("The rest is not ready yet.")
    )
    return [_ready(here, row.ticket.number, words), rest]


def _ready(here: Sequence[Item], number: int, words: Speech) -> str:
    """'Your bag is ready (ticket 22).'; several things are listed."""
    boots = [item for item in here if item.kind == "boot" and item.side]
    rest = [item for item in here if item not in boots]
    if len(here) == 1:
        only = here[0]
        usual = READY.get((only.kind, None), READY["other", None])
        return words.say(READY.get((only.kind, only.side), usual), number=number)
    if len(boots) == 2 and not rest:
        return words.say(READY["boots", None], number=number)
    things = [words.say(name_of(item)) for item in (*boots, *rest)]
    if len(boots) == 2:
        things[:2] = [words.say("Both boots")]
    return words.say(
        "Ready for you (ticket {number}): {things}.", number=number, things=words.listed(things)
    )


def keep(
    store: Store,
    act: Act,
    shop: Shop,
    ticket_id: int,
    how: str,
    note: str = "",
    new_day: date | None = None,
) -> Written:
    """How a call went. new_day: the one that the customer was told, where a promised day slips.

    No answer comes back on the next open day; told: on the shop's next reminder day. Raises
    BadInput.
    """
    if how not in HOW:
        words = say("Pick how it went: told, left a message, or no answer.")
        raise BadInput(words, typed=how, field="how")
    today = shop.today(act.at)

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        row = row_of(store, ticket, shop, today)
        about, moved = delays.about(row), {}
        if about == "delay" and how in delays.TELLS and new_day is not None:
            moved = delays.move_promise(store, row.ready_days, ticket, row.items, new_day)
        again = row.ready_days.days.next_open(_again(row, shop, how, today))
        call = {
            "ticket_id": ticket.id,
            "at": utc_text(act.at),
            "about": about,
            "how": how,
            "again_day": None if moved else again.isoformat(),
        }
        row_id = store.insert("calls", **call, **moved, staff_id=act.staff_id, note=note)
        detail = {"how": how, "again": again.isoformat(), **moved}
        return Written(ticket.id, row_id=row_id, detail=detail)

    return store.once(act, "call", write)


def _again(row: TicketRow, shop: Shop, how: str, today: date) -> date:
    """The day on which a ticket comes back on the list of calls by itself."""
    if how in AGAIN_DAYS:
        return today + timedelta(days=AGAIN_DAYS[how])
    return next_reminder(shop, ready_since(row.items, shop) or today, today)


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
    """The customer agreed to pick up the rest later: what is here is called about first.

    Raises NotFound, BadInput.
    """

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        if not any(one.state in item_states.READY for one in items.of_ticket(store, ticket.id)):
            raise BadInput(say("Nothing is on the shelf yet, so there is nothing to pick up."))
        store.change("tickets", ticket.id, ticket.version, come_twice=1)
        return Written(ticket.id)

    return store.once(act, "comes-twice", write)


def not_fetched(rows: list[TicketRow], shop: Shop, today: date) -> list[tuple[TicketRow, int]]:
    """All here and not picked up for at least the first reminder day, with the days since it was
    ready.
    """
    first = shop.reminders_days[0] if shop.reminders_days else USUAL_REMINDER
    aged = []
    for row in rows:
        since = ready_since(row.items, shop) if row.ready else None
        if since is not None and (today - since).days >= first:
            aged.append((row, (today - since).days))
    return sorted(aged, key=lambda one: -one[1])
