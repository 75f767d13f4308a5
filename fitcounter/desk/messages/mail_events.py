"""Which e-mails are to be sent: queued in the transaction of what caused them, or on the day they
fall due; each event once.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from fitcounter.desk.common import mail
from fitcounter.desk.front_desk import delays, ticket_rows
from fitcounter.desk.messages import mail_account
from fitcounter.desk.messages.mail_account import MailAccount
from fitcounter.desk.shop import Shop, Written
from fitcounter.fit import item_states
from fitcounter.store import contacts, customers, items, lists, mails, tickets, wears
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Ticket

# A step can be undone meanwhile; then nothing is sent.
CHANGE_OF_MIND = timedelta(minutes=10)
BEFORE_THE_END = timedelta(days=14)  # of the guarantee: time enough to come in


def tell(store: Store, act: Act, what: str, written: Written) -> None:
    """Queues what a change is to be told with, inside its write."""
    account = mail_account.of_shop(store) if written.ticket_id else None
    if account is None or written.ticket_id is None:
        return
    ticket = tickets.get(store, written.ticket_id)
    if not may_write(store, ticket):
        return
    if what == "agreed" and "claim" in account.kinds:
        mails.add(
            store, ticket.id, "claim", f"claim-{ticket.id}-{utc_text(act.at)}", act.at, act.at
        )
    plan = wears.of_ticket(store, ticket.id)
    if what == "hand-over" and plan is not None and "calendar" in account.kinds:
        event = f"calendar-{ticket.id}-{plan.picked_up_at}"
        mails.add(store, ticket.id, "calendar", event, act.at, act.at)
    if "ready" in account.kinds:
        _tell_ready(store, act, ticket)


def may_write(store: Store, ticket: Ticket) -> bool:
    """Whether the customer has an address, was not erased, and has not stopped e-mails."""
    customer = customers.get(store, ticket.customer_id)
    return (
        customer.erased_at is None
        and mail.is_email(customer.email)
        and not mails.is_stopped(store, customer.id)
    )


def is_ready(store: Store, ticket: Ticket) -> bool:
    states = [item.state for item in items.of_ticket(store, ticket.id)]
    return ticket.state == "open" and item_states.ready(states)


def _tell_ready(store: Store, act: Act, ticket: Ticket) -> None:
    """Once for each time that all of it became ready."""
    if not is_ready(store, ticket):
        mails.QUEUE.drop_waiting(store, ticket.id, "ready", act.at)
        return
    since = max(item.since for item in items.of_ticket(store, ticket.id))
    event = f"ready-{ticket.id}-{since}"
    mails.add(store, ticket.id, "ready", event, act.at, act.at + CHANGE_OF_MIND)


def queue_due(store: Store, shop: Shop, now: datetime) -> None:
    """Queues what falls due by the day alone: late, how they feel, the guarantee's end."""
    account = mail_account.of_shop(store)
    if account is None or not account.kinds:
        return
    events = _due(store, shop, account, now)
    if events:
        with store.write_tx():
            for ticket_id, kind, event in events:
                mails.add(store, ticket_id, kind, event, now, now)


def _due(
    store: Store, shop: Shop, account: MailAccount, now: datetime
) -> list[tuple[int, str, str]]:
    """Ticket, kind and event of each; those queued before among them."""
    today = shop.today(now)
    found: list[tuple[int, str, str]] = []
    if "late" in account.kinds:
        found += [
            (row.ticket.id, "late", f"late-{row.ticket.id}-{row.when.promised}")
            for row in ticket_rows.open_rows(store, shop, today)
            if delays.about(row) == "delay" and delays.to_tell(row, today)
        ]
    if "follow-up" in account.kinds:
        week = today - timedelta(days=7)
        found += [
            (one.ticket_id, "follow-up", f"follow-up-{one.id}")
            for one in contacts.due_follow_ups(store, today)
            if one.kind == "after-pickup" and date.fromisoformat(one.due_day) >= week
        ]
    if "guarantee" in account.kinds:
        found += [
            (ticket.id, "guarantee", f"guarantee-{ticket.id}-{ticket.guarantee_end}")
            for ticket in lists.guarantee_ends(store, today, today + BEFORE_THE_END)
        ]
    return [one for one in found if may_write(store, tickets.get(store, one[0]))]
