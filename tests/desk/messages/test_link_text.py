"""The text with the customer's link: by what stage the job is in, and whom it cannot reach."""

from __future__ import annotations

from datetime import date
from urllib.parse import unquote

import pytest
from support.ticket_rows import Job

from fitcounter.desk.messages.link_text import link_text
from fitcounter.desk.shop import Shop
from fitcounter.store import tickets
from fitcounter.store.database import Store

TODAY = date(2026, 3, 17)
LINK = "https://boots.example.org/c/AAAAAAAAAAAAAAAAAAAAAA"


def change_customer(store: Store, job: Job, **columns: str) -> None:
    with store.write_tx():
        store.change("customers", tickets.get(store, job.ticket_id).customer_id, **columns)


def test_while_the_things_are_here_it_names_the_day_and_ends_in_the_link(
    store: Store, job: Job, choices: Shop
):
    with store.write_tx():
        store.change("tickets", job.ticket_id, promise_day="2026-03-26")
    text = link_text(store, choices, job.ticket_id, LINK, TODAY)
    assert text.words == (
        "Hi Marisol, this is Quillmarsh Leather Bench about ticket 1."
        f" It should be ready on Thu, Mar 26. See where your order is: {LINK}"
    )
    number, _, body = text.sms.partition("?&body=")
    assert (number, unquote(body)) == ("sms:+15550100142", text.words)


@pytest.mark.usefixtures("home")
def test_at_home_it_brings_the_calendar_in_the_customers_language(
    store: Store, job: Job, choices: Shop
):
    change_customer(store, job, language="es")
    text = link_text(store, choices, job.ticket_id, LINK, TODAY)
    assert text.words.startswith("Hola, Marisol")
    assert text.words.endswith(f"Tu calendario para amoldarlas: {LINK}")


def test_without_a_number_no_text_opens_and_without_a_link_or_a_name_there_is_nothing_to_send(
    store: Store, job: Job, choices: Shop
):
    assert link_text(store, choices, job.ticket_id, "", TODAY) is None
    change_customer(store, job, phone_e164="", phone_typed="", email="marisol@example.org")
    text = link_text(store, choices, job.ticket_id, LINK, TODAY)
    assert (text.sms, text.email) == ("", "marisol@example.org")
    change_customer(store, job, erased_at="2026-03-17T00:00:00Z")
    assert link_text(store, choices, job.ticket_id, LINK, TODAY) is None
