"""What each kind of e-mail says, in both languages, with the link and without."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job

from fitcounter.desk.messages.mail_account import KINDS
from fitcounter.desk.messages.mail_words import words_of
from fitcounter.desk.shop import Act, Shop
from fitcounter.store import tickets
from fitcounter.store.database import Store

LINK = "https://boots.example.org/c/AAAAAAAAAAAAAAAAAAAAAA"


@pytest.mark.usefixtures("home")
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_greets_names_the_shop_once_more_and_says_how_to_stop(
    store: Store, job: Job, choices: Shop, act: Act, kind: str, language: str
):
    with store.write_tx():
        ticket = tickets.get(store, job.ticket_id)
        store.change("customers", ticket.customer_id, language=language)
    ticket = tickets.get(store, job.ticket_id)
    words = words_of(store, choices, ticket, kind, LINK, act.at)
    assert words.language == language
    assert "\n" not in words.subject
    assert words.plain.startswith("Hi Marisol" if language == "en" else "Hola, Marisol")
    first, call, stop = words.plain.strip().split("\n\n")
    assert first.endswith(f": {LINK}")
    assert "(555) 010-0199" in call
    assert stop.endswith(f": {LINK}/mail")
    assert words.html.count("<a href=") == 2
    bare = words_of(store, choices, ticket, kind, "", act.at)
    assert "http" not in bare.plain + bare.html
    assert "STOP" in bare.plain


def test_a_shop_s_name_is_a_name_in_html_too(store: Store, job: Job, act: Act):
    shop = Shop(name='<b onclick="x">Boots & Co', phone="1")
    words = words_of(store, shop, tickets.get(store, job.ticket_id), "claim", LINK, act.at)
    assert "<b" not in words.html.partition("<body>")[2].replace("<body>", "")
    assert "Boots &amp; Co" in words.html
