"""Which messages go to phones: queued in the transaction of what caused them, or at their hour;
each event once a phone. And which phones get none any more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.aftercare.wear_calendar import Calendar
from fitcounter.desk.bench.board import board
from fitcounter.desk.messages import mail_events
from fitcounter.desk.shop import Shop, Written
from fitcounter.fit import item_states
from fitcounter.fit.wear.wear import Wear
from fitcounter.store import customers, items, push_phones, pushes, tickets, wears
from fitcounter.store.database import Act, Store, utc_text, utc_time
from fitcounter.store.push_phones import PushPhone
from fitcounter.store.pushes import NewPush, Push
from fitcounter.store.records import Ticket

LINK_ENDS = ("link-new", "link-taken-back")
PUT_ON_WITHIN = timedelta(hours=2)
MISSED_FROM, MISSED_TO = 9, 12  # hours of the morning after, on the calendar's clock
HOLD_WITHIN = timedelta(hours=12)


def tell(store: Store, act: Act, what: str, written: Written) -> None:
    """Queues what a change is to be told with, inside its write; with a link its phones end."""
    ticket_id = written.ticket_id
    if ticket_id is None or not push_phones.count(store):
        return
    if what in LINK_ENDS:
        push_phones.end_of_ticket(store, ticket_id, act.at)
    hers = push_phones.of_ticket(store, ticket_id)
    if what == "wear-advice":
        _add(store, hers, NewPush(ticket_id, "answered", f"answered-{written.row_id}"), act.at)
    if what == "not-right":
        new = NewPush(ticket_id, "not-right", f"not-right-{written.row_id}")
        _add(store, push_phones.of_staff(store), new, act.at)
    if hers:
        _tell_ready(store, act, tickets.get(store, ticket_id), hers)


def _tell_ready(store: Store, act: Act, ticket: Ticket, hers: Sequence[PushPhone]) -> None:
    """Once for each time that all of it became ready."""
    if not mail_events.is_ready(store, ticket):
        pushes.QUEUE.drop_waiting(store, ticket.id, "ready", act.at)
        return
    since = max(item.since for item in items.of_ticket(store, ticket.id))
    new = NewPush(ticket.id, "ready", f"ready-{ticket.id}-{since}")
    _add(store, hers, new, act.at + mail_events.CHANGE_OF_MIND)


def _add(store: Store, phones: Sequence[PushPhone], new: NewPush, at: datetime) -> None:
    for one in phones:
        pushes.add(store, one.id, new, at)


def queue_due(store: Store, shop: Shop, now: datetime, *, of_bench: bool) -> None:
    """Queues what the hour alone makes due, and ends the phones that have nothing to wait for.

    of_bench: also looks at every tree.
    """
    ended: list[PushPhone] = []
    found: list[tuple[PushPhone, NewPush]] = []
    for ticket_id in push_phones.tickets_with(store):
        hers = push_phones.of_ticket(store, ticket_id)
        if _is_over(store, tickets.get(store, ticket_id), now):
            ended += hers
        elif wears.of_ticket(store, ticket_id) is not None:
            found += _of_calendar(store, ticket_id, hers, now)
    staff = push_phones.of_staff(store) if of_bench else []
    if staff:
        known = {(one.push_phone_id, one.event) for one in pushes.since(store, "hold", now)}
        holds = list(_holds(store, shop, now))
        found += [(one, new) for one in staff for new in holds if (one.id, new.event) not in known]
    if ended or found:
        with store.write_tx():
            for phone in ended:
                push_phones.end(store, phone.id, now)
            for phone, new in found:
                pushes.add(store, phone.id, new, now)


def _is_over(store: Store, ticket: Ticket, now: datetime) -> bool:
    """Whether the link opens nothing, or the boots are worn in and nobody waits for anything."""
    closed = ticket.link_revoked_at is not None or (ticket.link_until or "") < utc_text(now)
    if closed or customers.get(store, ticket.customer_id).erased_at is not None:
        return True
    here = any(item.state not in item_states.GONE for item in items.of_ticket(store, ticket.id))
    if here or not_right.standing(store, ticket.id).reports:
        return False
    plan = wears.of_ticket(store, ticket.id)
    return plan is None or wear_calendar.current(store, ticket.id, now).due.kind == "over"


def _of_calendar(
    store: Store, ticket_id: int, hers: Sequence[PushPhone], now: datetime
) -> Iterator[tuple[PushPhone, NewPush]]:
    """What the calendar says at this hour and a phone was not told yet."""
    calendar, told = (
        wear_calendar.current(store, ticket_id, now),
        pushes.QUEUE.of_ticket(store, ticket_id),
    )
    known = {(one.push_phone_id, one.event) for one in told}
    for begins, new in _said_now(ticket_id, calendar, told, now):
        for one in hers:
            if utc_time(one.since) < begins and (one.id, new.event) not in known:
                yield one, new


def _said_now(
    ticket_id: int, calendar: Calendar, told: Sequence[Push], now: datetime
) -> Iterator[tuple[datetime, NewPush]]:
    """Each with the moment from which it holds: who asked for messages later knows it already."""
    due, plan = calendar.due, calendar.plan
    if due.kind == "wear" and due.wear and not _was_begun(told, due.wear.n, now):
        start = due.wear.start
        if start <= now < start + PUT_ON_WITHIN and not _has_slipped(plan.wears, due.wear):
            event = f"put-on-{ticket_id}-{due.wear.n}-{utc_text(start)}"
            yield start, NewPush(ticket_id, "put-on", event)
    local = now.astimezone(plan.clock.zone)
    if due.kind in ("wear", "rest") and due.wear and MISSED_FROM <= local.hour < MISSED_TO:
        for wear in plan.wears:
            is_new = wear.n and wear.local_day == local.date() - timedelta(days=1)
            if wear.state == "missed" and is_new:
                event = f"missed-{ticket_id}-{wear.n}-{wear.local_day}"
                yield wear.start, NewPush(ticket_id, "missed", event)


def _was_begun(told: Sequence[Push], n: int, now: datetime) -> bool:
    """Whether a clock of that step was started lately: then the boots are on, or were."""
    clocks = [one for one in told if one.kind == "take-off" and one.event.split("-")[3] == str(n)]
    return any(now - utc_time(one.queued_at) < PUT_ON_WITHIN for one in clocks)


def _has_slipped(log: Sequence[Wear], wear: Wear) -> bool:
    """Whether it was missed for three days running: then nobody is asked every evening."""
    put_off = [one.local_day for one in log if one.n == wear.n and one.state == "missed"]
    return bool(put_off) and (wear.local_day - min(put_off)).days > 3


def _holds(store: Store, shop: Shop, now: datetime) -> Iterator[NewPush]:
    """A line for each ticket of which something is due off a tree, in the shop's hours."""
    for seen in board(store, shop, now).trees:
        due = seen.due_at
        if seen.on_it and due and now - HOLD_WITHIN < due <= now:
            event = f"hold-{seen.on_it.ticket_id}-{utc_text(due)}"
            yield NewPush(seen.on_it.ticket_id, "hold", event)
