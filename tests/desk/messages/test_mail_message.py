"""One e-mail on the wire: its headers hold, whatever was typed."""

from __future__ import annotations

from datetime import UTC, datetime
from email import message_from_bytes, policy

import pytest

from fitcounter.desk.messages.mail_account import MailAccount
from fitcounter.desk.messages.mail_message import Attachment, Envelope, message_of
from fitcounter.desk.messages.mail_words import MailWords
from fitcounter.errors import BadInput

NOW = datetime(2026, 3, 17, 14, tzinfo=UTC)
ACCOUNT = MailAccount("localhost", 465, "tls", "", "shop@example.org")
WORDS = MailWords("Ready, Ñ", "Hi ✓\n", "<p>Hi ✓</p>\n", "es")


def sent(shop_name: str = "The shop", **changed: object):
    """The message as a mail program reads it."""
    envelope = Envelope(**{"to": "a@example.net", "event": "ready-1", **changed})
    raw = message_of(ACCOUNT, shop_name, envelope, WORDS, NOW).as_bytes()
    assert all(len(line) <= 998 for line in raw.split(b"\r\n"))
    return message_from_bytes(raw, policy=policy.default)


@pytest.mark.parametrize(
    "to",
    [
        "a@example.net\nBcc: b@example.net",
        "a@example.net\r\n\r\nbody",
        "a@example.net, b@example.net",
        "a@example.net;b@example.net",
        "<a@example.net>",
        "a b@example.net",
        "a@example.net\x00",
        "",
    ],
)
def test_an_address_that_begins_another_or_a_header_is_refused(to: str):
    with pytest.raises(BadInput):
        sent(to=to)


@pytest.mark.parametrize(
    "name",
    ['Boots "R" Us, Inc.', "Taller Ñandú", "Shop\r\nBcc: b@example.net", "a@b", "\u202eShop"],
)
def test_a_shop_s_name_stays_a_name(name: str):
    message = sent(name)
    (sender,) = message["From"].addresses
    assert sender.addr_spec == "shop@example.org"
    assert "\n" not in sender.display_name
    assert message["Bcc"] is None
    assert message["To"] == "a@example.net"


def test_one_event_has_one_name_and_another_another():
    first, again, other = sent(), sent(), sent(event="ready-2")
    assert first["Message-ID"] == again["Message-ID"] != other["Message-ID"]
    assert first["Message-ID"].endswith("@example.org>")
    assert "ready" not in first["Message-ID"]


def test_without_a_link_an_answer_stops_them_and_papers_come_along():
    paper = Attachment("a.pdf", "application/pdf", b"%PDF-1.7")
    message = sent(attached=(paper,))
    assert message["List-Unsubscribe"] == "<mailto:shop@example.org?subject=STOP>"
    assert message["List-Unsubscribe-Post"] is None
    assert message["Auto-Submitted"] == "auto-generated"
    assert message["Content-Language"] == "es"
    assert message["Subject"] == "Ready, Ñ"
    assert message.get_body(("plain",)).get_content().strip() == "Hi ✓"
    assert [one.get_content() for one in message.iter_attachments()] == [b"%PDF-1.7"]
