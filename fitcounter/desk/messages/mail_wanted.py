"""Whether a customer wants e-mails, what became of those of a ticket, and a first one to try the
account with.
"""

from __future__ import annotations

import hmac
from datetime import datetime, timedelta
from html import escape
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.common import mail
from fitcounter.desk.common.link_token import link_hash, link_key, link_token
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.customer.page import no_such_link
from fitcounter.desk.messages import mail_account, mail_post
from fitcounter.desk.messages.mail_message import Envelope, message_of
from fitcounter.desk.messages.mail_words import MailWords
from fitcounter.desk.shop import Act, Shop, Written
from fitcounter.errors import BadInput, NotFound, Unavailable
from fitcounter.store import customers, mails, tickets
from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Customer, Ticket

STANDS = {
    "waiting": marked("waiting to be sent"),
    "sent": marked("sent"),
    "given-up": marked("not delivered"),
    "dropped": marked("not sent: no longer so"),
}
SHOWN_FOR = timedelta(days=30)


class MailLine(NamedTuple):
    """One e-mail of a ticket: what it is about, how it stands, and what was wrong, in words."""

    kind: str
    stands: str
    fault: str
    at: str


class Undelivered(NamedTuple):
    """An e-mail that was given up: whose, about which ticket, and why, in words."""

    ticket: Ticket
    customer: Customer
    words: str


def stop(store: Store, act: Act, ticket_id: int) -> Written:
    """No more e-mails to this ticket's customer; what waits is not sent."""

    def write() -> Written:
        mails.stop(store, tickets.get(store, ticket_id).customer_id, act.at)
        words = say("No more e-mails go out to this customer.")
        return Written(ticket_id, words=words)

    return store.once(act, "mail-stopped", write)


def allow(store: Store, act: Act, ticket_id: int) -> Written:
    """E-mails again, because the customer asked for them."""

    def write() -> Written:
        mails.allow(store, tickets.get(store, ticket_id).customer_id)
        return Written(ticket_id, words=say("This customer gets e-mails again."))

    return store.once(act, "mail-allowed", write)


def ticket_of_stop(store: Store, token: str) -> Ticket:
    """The ticket of a link that stops e-mails: also by one that is over, switched off, or was
    followed by another, because the e-mails that were sent with it stay.

    Raises NotFound.
    """
    ticket = tickets.by_link(store, link_hash(token))
    if ticket is not None:
        return ticket
    key = link_key(store.path.parent)
    for one, series in tickets.relinked(store):
        older = (link_token(key, one, n) for n in range(1, series))
        if any(hmac.compare_digest(token.encode(), made.encode()) for made in older):
            if customers.get(store, one.customer_id).erased_at is None:
                return one
            break
    raise NotFound(no_such_link())


def is_stopped(store: Store, ticket_id: int) -> bool:
    return mails.is_stopped(store, tickets.get(store, ticket_id).customer_id)


def of_ticket(store: Store, ticket_id: int) -> list[MailLine]:
    """Oldest first."""
    return [
        MailLine(
            say(mail_account.KINDS[one.kind]),
            say(STANDS[one.state]),
            fault_words(one.fault),
            one.done_at or one.queued_at,
        )
        for one in mails.QUEUE.of_ticket(store, ticket_id)
    ]


def undelivered(store: Store, now: datetime) -> list[Undelivered]:
    """What was given up lately, of tickets on which nobody called or wrote since."""
    found = []
    for one in mails.given_up(store, now - SHOWN_FOR):
        ticket = tickets.get(store, one.ticket_id)
        words = f"{say(mail_account.KINDS[one.kind])}. {fault_words(one.fault)}"
        found.append(Undelivered(ticket, customers.get(store, ticket.customer_id), words))
    return found


def fault_words(fault: str) -> str:
    return say(mail_post.FAULTS[fault]) if fault in mail_post.FAULTS else ""


def send_test(store: Store, act: Act, shop: Shop, to: str, data_dir: Path) -> str:
    """Sends one e-mail by the account as it stands, and says that it went.

    Raises BadInput; Unavailable with what is wrong.
    """
    account = mail_account.of_shop(store)
    if account is None:
        raise BadInput(say("Save the mail account first."), field="host")
    address = mail.read_email(to, "to")
    if not address:
        raise BadInput(say(mail.ADVICE), field="to")
    text = say("This is a test from {shop}. E-mails to customers work.", shop=shop.name)
    words = MailWords(
        say("Test from {shop}", shop=" ".join(shop.name.split())),
        f"{text}\n",
        f"<p>{escape(text)}</p>\n",
        spoken().code,
    )
    envelope = Envelope(to=address, event=f"test-{utc_text(act.at)}-{act.submission_id}")
    message = message_of(account, shop.name, envelope, words, act.at)
    try:
        mail_post.post(account, mail_account.password(data_dir), message)
    except mail_post.NotPosted as error:
        raise Unavailable(fault_words(error.fault)) from error
    return say("Sent to {address}. Look whether it arrived.", address=address)
