"""Telling a customer that a promised day will not be kept, before it is late: who is to be called,
in which words, and the promise that moves once they were told.
"""

from __future__ import annotations

from datetime import date

from fitcounter.desk.common.translation import Speech, say, spoken
from fitcounter.desk.front_desk.ticket_rows import TicketRow
from fitcounter.desk.plan.ready_day import HELD, DayState, ReadyDays
from fitcounter.errors import BadInput
from fitcounter.store.database import Store
from fitcounter.store.records import Item, Ticket

# How a customer learns the new day itself; a message asks to call back, so the old day stands.
TELLS = ("called", "text", "e-mail", "letter")


def about(row: TicketRow) -> str:
    """What a call about this ticket is about now: delay, stopped or ready."""
    if row.when.late or row.when.unsure:
        return "delay"
    return "stopped" if row.when.state is DayState.HELD else "ready"


def to_tell(row: TicketRow, today: date) -> bool:
    """Whether the customer is to be called about a day that slips or a boot that is stopped.

    Once told of a new day, the promise has moved and nothing is late any more.
    """
    what = about(row)
    if what == "ready" or row.ticket.state != "open":
        return False
    asked = row.asked
    if asked is None or asked.about != what:
        return True
    if what == "stopped" and any(one.since > asked.at for one in row.items if one.state in HELD):
        return True
    return asked.again_day is None or asked.again_day <= today.isoformat()


def sentences(row: TicketRow, words: Speech, *, alone: bool) -> list[str]:
    """The text for it: sorry, the new day, and the day the customer needs it by remembered.

    alone: nothing of the ticket is here, so that a day that stands is said too.
    """
    when = row.when
    if when.state is DayState.HELD:
        return [_held(row, words)]
    if when.unsure:
        return [_unsure(row, words)]
    if not when.late:
        stands = alone and when.state in (DayState.ON_TRACK, DayState.PROMISED)
        day = words.day(when.day) if when.day else ""
        return [words.say("It should be ready on {day}.", day=day)] if stands and day else []
    promised = words.day(when.promised) if when.promised else ""
    sorry = words.say("We are sorry: it will not be ready on {day}.", day=promised)
    if when.day is None:
        return [sorry, words.say("We will call you with a new date.")]
    new = words.say("It will be ready on {day}.", day=words.day(when.day))
    needed = date.fromisoformat(row.ticket.needed_by) if row.ticket.needed_by else None
    if needed is None:
        return [sorry, new]
    if when.day <= needed:
        return [sorry, new, words.say("That is in time for {day}.", day=words.day(needed))]
    asks = words.say(
        "We know that you need it by {day}. Please call us, so that we find a way.",
        day=words.day(needed),
    )
    return [sorry, new, asks]


def _unsure(row: TicketRow, words: Speech) -> str:
    """The promised day is all but here, and nobody knows yet whether it is kept."""
    day = words.day(row.when.promised) if row.when.promised else ""
    return words.say(
        "We are sorry: it may not be ready on {day}. We will call you as soon as it is.", day=day
    )


def _held(row: TicketRow, words: Speech) -> str:
    if any(one.state == "stopped" for one in row.items):
        return words.say(
            "We found a problem and stopped. We need your decision before we go on: please call us."
        )
    if any(one.state == "waiting" and one.waits_for == "customer" for one in row.items):
        return words.say("Before we go on, we need your answer. Please call us.")
    return words.say("Your order is on hold. We will call you with a date.")


def move_promise(
    store: Store, days: ReadyDays, ticket: Ticket, held: list[Item], new_day: date
) -> dict[str, str]:
    """Promises what is late on its ticket for a later day, inside a write.

    Gives the columns that keep the old day with the call. Raises BadInput for a day gone by and one
    on which the shop is closed.
    """
    if new_day < days.today or not days.days.is_open(new_day):
        words = spoken()
        raise BadInput(
            say(
                "The shop is closed on {day}. The next open day is {next}.",
                day=words.day(new_day),
                next=words.day(days.days.next_open(max(new_day, days.today))),
            ),
            typed=new_day.isoformat(),
            field="new_day",
        )
    standing = {one.id: days.of_item(one, ticket, held) for one in held}
    late = [one for one in held if standing[one.id].late or standing[one.id].unsure]
    for item in late:
        if item.promised_day:
            store.change("items", item.id, item.version, promised_day=new_day.isoformat())
    if any(not item.promised_day for item in late):
        pickup = ticket.pickup_day if (ticket.pickup_day or "") >= new_day.isoformat() else None
        columns = {"promise_day": new_day.isoformat(), "pickup_day": pickup}
        store.change("tickets", ticket.id, ticket.version, **columns)
    was = days.of_ticket(ticket, held).promised
    return {"moved_from": was.isoformat(), "moved_to": new_day.isoformat()} if was else {}
