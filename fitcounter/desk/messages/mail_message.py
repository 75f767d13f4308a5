"""One e-mail as it goes over the wire: RFC 5322, with the way to stop them (RFC 2369, RFC 8058)."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import UTC, datetime
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime
from typing import NamedTuple

from fitcounter.desk.common import mail
from fitcounter.desk.common.translation import say
from fitcounter.desk.messages.mail_account import MailAccount
from fitcounter.desk.messages.mail_words import MailWords
from fitcounter.errors import BadInput


class Attachment(NamedTuple):
    """kind: as "application/pdf"."""

    name: str
    kind: str
    content: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """to: one address. event: what the mail tells of, from which its Message-ID is made. stop: an
    address that stops them in one tap, "" for an answer by mail.
    """

    to: str
    event: str
    stop: str = ""
    attached: tuple[Attachment, ...] = ()


def message_of(
    account: MailAccount, shop_name: str, envelope: Envelope, words: MailWords, now: datetime
) -> EmailMessage:
    """The message, always with the same Message-ID for one event.

    Raises BadInput for an address that could begin another one or a header.
    """
    if not mail.is_email(envelope.to) or not mail.is_email(account.sender):
        raise BadInput(say(mail.ADVICE), field="email")
    message = EmailMessage(policy=SMTP)
    user, _, domain = account.sender.rpartition("@")
    name = " ".join("".join(one if one.isprintable() else " " for one in shop_name).split())
    message["From"] = Address(name, user, domain)
    user, _, domain_to = envelope.to.rpartition("@")
    message["To"] = Address("", user, domain_to)
    message["Subject"] = words.subject
    message["Date"] = format_datetime(now.astimezone(UTC))
    message["Message-ID"] = f"<{message_name(envelope.event, account.sender)}@{domain}>"
    message["Auto-Submitted"] = "auto-generated"
    if envelope.stop:
        message["List-Unsubscribe"] = f"<{envelope.stop}>"
        message["List-Unsubscribe-Post"] = "List-Unsubscribe=One-Click"
    else:
        message["List-Unsubscribe"] = f"<mailto:{mail.in_link(account.sender)}?subject=STOP>"
    message.set_content(words.plain)
    message.add_alternative(words.html, subtype="html")
    for one in envelope.attached:
        main, _, sub = one.kind.partition("/")
        message.add_attachment(one.content, maintype=main, subtype=sub, filename=one.name)
    message["Content-Language"] = words.language  # at the end: setting a content takes it away
    return message


def message_name(event: str, sender: str) -> str:
    """The left half of a Message-ID: the same for one event, and it tells nothing of it."""
    return hashlib.sha256(f"{event}\0{sender}".encode()).hexdigest()[:32]
