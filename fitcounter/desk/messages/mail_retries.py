"""What the shop's machine does with the queue by itself: each e-mail tried, tried again with
growing waits, and given up after three days, with a line for the counter.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.common.link_token import link_key, link_token
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.documents.calendar import CalendarRequest, calendar_file
from fitcounter.desk.front_desk import delays, ticket_rows
from fitcounter.desk.messages import mail_account, mail_events, mail_post
from fitcounter.desk.messages.link_opens_at_home import link_to_send
from fitcounter.desk.messages.mail_account import MailAccount
from fitcounter.desk.messages.mail_message import Attachment, Envelope, message_of
from fitcounter.desk.messages.mail_words import MailWords, words_of
from fitcounter.desk.shop import Shop, open_store, read
from fitcounter.errors import FitCounterError
from fitcounter.store import contacts, customers, mails, tickets, wears
from fitcounter.store.database import Store, utc_time
from fitcounter.store.mails import Mail
from fitcounter.store.records import Ticket

MOST = 20  # in one round
WAITS = tuple(timedelta(minutes=minutes) for minutes in (5, 15, 60, 240, 720))
GIVE_UP_AFTER = timedelta(days=3)
CALENDAR = "text/calendar"


class MailPlace(NamedTuple):
    """Where the shop's data lie, and the address at which phones reach it."""

    data_dir: Path
    base_url: str


def send_due(place: MailPlace, now: datetime, *, look_for_due: bool = False) -> int:
    """Tries what is due at `now` (aware). look_for_due: also queues what falls due by the day.

    Returns how many went out. After the first one that the server does not take at all, the others
    wait for the next round.
    """
    store, sent = open_store(place.data_dir / "shop.db"), 0
    try:
        account = mail_account.of_shop(store)
        if account is None:
            return 0
        shop, password = read(store), mail_account.password(place.data_dir)
        if look_for_due:
            mail_events.queue_due(store, shop, now)
        for mail in mails.QUEUE.due(store, now, MOST):
            if not mails.QUEUE.take(store, mail, now + WAITS[min(mail.tries, len(WAITS) - 1)]):
                continue  # somebody else has it
            state = _try(store, shop, account, password, place, mail, now)
            sent += state == "sent"
            if state == "waiting":
                break
    finally:
        store.close()
    return sent


def _try(
    store: Store,
    shop: Shop,
    account: MailAccount,
    password: str,
    place: MailPlace,
    mail: Mail,
    now: datetime,
) -> str:
    """Tries one, and notes and returns how it then stands."""
    ticket = tickets.get(store, mail.ticket_id)
    if not _still_so(store, shop, ticket, mail, now):
        return _note(store, mail, "dropped", now)
    try:
        message = message_of(account, shop.name, *_letter(store, shop, ticket, place, mail, now))
        mail_post.post(account, password, message)
    except mail_post.NotPosted as error:
        over = now - utc_time(mail.queued_at) >= GIVE_UP_AFTER and mail.tries + 1 >= len(WAITS)
        state = "given-up" if over or error.fault in mail_post.FOR_GOOD else "waiting"
        return _note(store, mail, state, now, error.fault)
    return _note(store, mail, "sent", now)


def _note(store: Store, mail: Mail, state: str, now: datetime, fault: str = "") -> str:
    mails.QUEUE.finish(store, mail, state, now, fault)
    return state


def _still_so(store: Store, shop: Shop, ticket: Ticket, mail: Mail, now: datetime) -> bool:
    """Whether what the e-mail tells still holds, and the customer still wants it."""
    if not mail_events.may_write(store, ticket):
        return False
    if mail.kind == "ready":
        return mail_events.is_ready(store, ticket)
    if mail.kind == "late":
        row = ticket_rows.row_of(store, ticket, shop, shop.today(now))
        return ticket.state == "open" and delays.about(row) == "delay"
    if mail.kind == "calendar":
        return wears.of_ticket(store, ticket.id) is not None
    if mail.kind == "follow-up":
        asked = contacts.follow_ups_of_ticket(store, ticket.id)
        return any(f"follow-up-{one.id}" == mail.event and not one.done_at for one in asked)
    end = ticket.guarantee_end
    return mail.kind != "guarantee" or bool(end and end >= shop.today(now).isoformat())


def _letter(
    store: Store, shop: Shop, ticket: Ticket, place: MailPlace, mail: Mail, now: datetime
) -> tuple[Envelope, MailWords, datetime]:
    """Whom it goes to, its words and its papers, as things stand now."""
    link = (
        link_to_send(store, ticket.id, place.base_url, place.data_dir, now)
        if shop.send_link
        else ""
    )
    envelope = Envelope(
        to=customers.get(store, ticket.customer_id).email,
        event=mail.event,
        stop=f"{link}/mail" if link else "",
        attached=_papers(store, shop, ticket, place, mail.kind, link, now),
    )
    return envelope, words_of(store, shop, ticket, mail.kind, link, now), now


def _papers(
    store: Store, shop: Shop, ticket: Ticket, place: MailPlace, kind: str, link: str, now: datetime
) -> tuple[Attachment, ...]:
    """The claim check, or the calendar twice; those that cannot be made are left out."""
    makers = {"claim": _claim, "calendar": _calendar}
    if kind not in makers:
        return ()
    return tuple(makers[kind](store, shop, ticket, place, link, now))


def _claim(
    store: Store, shop: Shop, ticket: Ticket, place: MailPlace, _link: str, now: datetime
) -> Iterator[Attachment]:
    with suppress(FitCounterError):
        check = documents_ticket.claim_check(
            store, shop, ticket.id, place.base_url, place.data_dir, now
        )
        if not documents_ticket.ready():
            pdf = documents_ticket.claim_paper(check, documents_ticket.press(""))
            yield Attachment("claim-check.pdf", "application/pdf", pdf)


def _calendar(
    store: Store, shop: Shop, ticket: Ticket, place: MailPlace, link: str, now: datetime
) -> Iterator[Attachment]:
    series = tickets.link_series(store, ticket.id) or 1
    token = link_token(link_key(place.data_dir), ticket, series)
    for file_format, kind in (("pdf", "application/pdf"), ("ics", CALENDAR)):
        wanted = CalendarRequest(token=token, file_format=file_format, address=link, link=link)
        with suppress(FitCounterError):
            content = calendar_file(store, shop, wanted, now).content
            yield Attachment(f"boots-calendar.{file_format}", kind, content)
