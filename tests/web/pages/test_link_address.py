"""The customer's link in what the shop sends: after the agreement, when it is ready or late, and
after the boots went home.
"""

from __future__ import annotations

from dataclasses import replace
from html import unescape
from pathlib import Path
from urllib.parse import unquote

import pytest
from flask import Flask
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.quote import agree
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Store

AT_HOME = "https://boots.example.org/c/"


@pytest.fixture
def job(store: Store, clock: Clock, tmp_path: Path) -> Job:
    """An agreed job: it has its first link."""
    act = Act(clock.now, 1)
    made = make_job(store, act)
    with store.write_tx():
        here = items.of_ticket(store, made.ticket_id)
        ticket = tickets.get(store, made.ticket_id)
        agree.open_for_asking(store, act, ticket, agree.TicketOpening(items=here), tmp_path)
    return made


@pytest.fixture
def open_shop(app: Flask) -> None:
    """The shop has a name and a certificate that every phone knows."""
    app.config["SETTINGS"] = replace(
        app.config["SETTINGS"], base_url="https://boots.example.org", https=False
    )


def hand_over(store: Store, clock: Clock, job: Job) -> None:
    act = Act(clock.now, 1)
    things = (job.left, job.right, job.bag)
    for item_id in things:
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(
        frozenset(things), act.at, "Marisol", preset="three-short-wears", hour=18
    )
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))


def text_on(counter: Counter, path: str) -> str:
    """The words that the page's texts open with, "" where it opens none."""
    page = unescape(counter.get(path).text)
    return unquote(page.partition("?&body=")[2].partition('"')[0])


@pytest.mark.usefixtures("open_shop")
def test_one_tap_on_the_ticket_sends_the_link_after_the_agreement_and_after_pickup(
    counter: Counter, stranger: Counter, store: Store, job: Job, clock: Clock
):
    """The link is the last word of the text, and opens the page; nothing else of it is private."""
    ticket = f"/tickets/{job.ticket_id}"
    said = text_on(counter, ticket)
    assert said.startswith("Hi Marisol, this is Quillmarsh Leather Bench about ticket 1.")
    assert f"See where your order is: {AT_HOME}" in said
    link = said.rpartition(" ")[2]
    assert stranger.get(link.removeprefix("https://boots.example.org")).status_code == 200
    assert text_on(counter, f"{ticket}/link") == said

    hand_over(store, clock, job)
    assert text_on(counter, ticket).endswith(f"Your wearing-in calendar: {link}")
    assert text_on(counter, f"/pickup/{job.ticket_id}").endswith(link)


@pytest.mark.usefixtures("open_shop")
def test_ready_and_late_texts_end_in_the_link_in_the_customers_language(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    call = f"/tickets/{job.ticket_id}/call"
    with store.write_tx():
        for item_id in (job.left, job.right, job.bag):
            store.change("items", item_id, promised_day="2026-03-16")
    late = text_on(counter, call)
    assert "We are sorry" in late
    assert f"See where your order is: {AT_HOME}" in late
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(clock.now, 1), item_id, "shelved", StepInput(clock.now))
    with store.write_tx():
        store.change("customers", tickets.get(store, job.ticket_id).customer_id, language="es")
    ready = text_on(counter, call)
    assert ready.startswith("Hola, Marisol")
    assert f"Mira cómo va tu encargo: {AT_HOME}" in ready
    assert "without the link" not in counter.get(call).text


@pytest.mark.usefixtures("open_shop")
def test_a_link_that_opens_nothing_is_sent_to_nobody(counter: Counter, job: Job):
    """Switched off on its page, and by the shop's choice for all."""
    ticket, call = f"/tickets/{job.ticket_id}", f"/tickets/{job.ticket_id}/call"
    counter.get(f"{ticket}/link")
    counter.post(f"{ticket}/link/take-back")
    assert "Send link by text" not in counter.get(ticket).text
    assert "/c/" not in text_on(counter, call)
    assert "Send the link" not in counter.get(f"{ticket}/link").text


def test_a_shop_that_no_phone_outside_can_reach_says_so_and_sends_no_link(
    counter: Counter, owner: Counter, store: Store, job: Job
):
    ticket, call = f"/tickets/{job.ticket_id}", f"/tickets/{job.ticket_id}/call"
    for path in (call, f"{ticket}/link"):
        assert "phones outside the shop cannot open http://localhost:8000" in counter.get(path).text
        assert "/c/" not in text_on(counter, path)
    assert "Send link by text" not in counter.get(ticket).text
    assert "Send link by text" in owner.get("/guide/messages").text


@pytest.mark.usefixtures("open_shop")
def test_a_shop_may_keep_its_links_out_of_messages(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    shop.choose(store, Act(clock.now, 1), send_link=False)
    page = counter.get(f"/tickets/{job.ticket_id}/call").text
    assert "it is switched off under Settings" in page
    assert "Send link by text" not in counter.get(f"/tickets/{job.ticket_id}").text
    assert text_on(counter, f"/tickets/{job.ticket_id}/call").find("/c/") == -1
