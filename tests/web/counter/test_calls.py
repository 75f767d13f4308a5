"""Telling customers: the words fit what is here, a part is called about only when she agreed, and
reminders keep the shop's own days.
"""

from __future__ import annotations

from datetime import date
from html import unescape

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.ticket_rows import Job, make_job
from support.two_boots_shelved import two_boots_shelved

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.shop import read
from fitcounter.store import contacts, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return two_boots_shelved(store, Act(clock.now, 1))


def waits_for_a_call(counter: Counter) -> bool:
    page = counter.get("/").text.partition(">Calls to make <span")[2].partition("</section>")[0]
    return "Okafor-Lind" in page


def test_a_part_is_called_about_once_she_agreed_to_come_twice_and_the_words_say_what_is_here(
    counter: Counter, store: Store, job: Job
):
    assert not waits_for_a_call(counter)
    page = counter.get(f"/tickets/{job.ticket_id}/call").text
    assert "Call only if the rest can be picked up later" in page
    assert (
        counter.post(f"/tickets/{job.ticket_id}/comes-twice", submission_id=fresh()).status_code
        == 303
    )
    assert waits_for_a_call(counter)
    page = counter.get(f"/tickets/{job.ticket_id}/call").text
    assert (
        "Your boots are ready (ticket 1). Come now, or pick up everything together on"
        " Thu, Mar 19?" in page
    )
    assert "The balance is $60.00." in page


def test_what_comes_onto_the_shelf_after_a_call_is_called_about_again(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    counter.get(f"/tickets/{job.ticket_id}/call")
    counter.post(f"/tickets/{job.ticket_id}/comes-twice", submission_id=fresh())
    counter.post(f"/tickets/{job.ticket_id}/call", how="called")
    assert not waits_for_a_call(counter)
    clock.on(hours=2)
    catch_up(store, Act(clock.now, 1), job.bag, "shelved", StepInput(clock.now))
    counter.sign_in()
    assert waits_for_a_call(counter)
    assert "Everything is ready" in counter.get(f"/tickets/{job.ticket_id}/call").text


def test_nothing_on_the_shelf_is_nothing_to_come_for(counter: Counter, store: Store, clock: Clock):
    other = make_job(store, Act(clock.now, 1), "Ada")
    counter.get(f"/tickets/{other.ticket_id}/call")
    assert (
        counter.post(f"/tickets/{other.ticket_id}/comes-twice", submission_id=fresh()).status_code
        == 422
    )
    assert tickets.get(store, other.ticket_id).come_twice == 0
    assert "She comes twice" not in counter.get(f"/tickets/{other.ticket_id}/call").text


def test_she_reads_it_in_her_language(counter: Counter, store: Store, job: Job):
    with store.write_tx():
        store.change("customers", tickets.get(store, job.ticket_id).customer_id, language="es")
    page = unescape(counter.get(f"/tickets/{job.ticket_id}/call").text)
    assert (
        "Tus botas ya están listas (número 1). ¿Vienes ya o prefieres recogerlo todo junto el"
        " jue, 19 mar?" in page
    )
    assert "sms:+15550100142?&body=Hola%2C%20Marisol" in page


def test_the_words_stand_by_themselves_to_be_copied_and_are_those_of_the_text(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    catch_up(store, Act(clock.now, 1), job.bag, "shelved", StepInput(clock.now))
    page = counter.get(f"/tickets/{job.ticket_id}/call").text
    words = unescape(
        page.partition('<blockquote class="said" id="words" lang="en">')[2].partition(
            "</blockquote>"
        )[0]
    )
    assert (
        words
        == "Hi Marisol, this is Quillmarsh Leather Bench. Everything is ready for you (ticket 1). "
        "We are open until 6:00 PM. The balance is $60.00."
    )
    assert 'data-copy="words"' in page
    assert "Both boots: ready, shelf C2; bag: ready." in page


def test_every_try_is_on_the_page_with_its_day_and_after_two_a_letter_is_offered(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    catch_up(store, Act(clock.now, 1), job.bag, "shelved", StepInput(clock.now))
    path = f"/tickets/{job.ticket_id}/call"
    for how in ("no-answer", "left-word"):
        counter.get(path)
        counter.post(path, how=how)
        clock.on(days=1)
        counter.sign_in()
    page = " ".join(counter.get(path).text.split())
    assert "No answer, Tuesday, March 17" in page
    assert "Left a message, Wednesday, March 18. Call again Saturday, March 21" in page
    assert "Print a letter" in page
    assert len(contacts.calls_of_ticket(store, job.ticket_id)) == 2


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("declined", "not done, ready to pick up"),
        ("prepared", "prepared, next on a tree"),
        ("finished", "finished, waiting for a shelf"),
    ],
)
def test_several_things_in_one_state_are_said_in_the_plural(
    store: Store, clock: Clock, state: str, words: str
):
    made = make_job(store, Act(clock.now, 1), state=state)
    row = ticket_rows.row_of(
        store, tickets.get(store, made.ticket_id), read(store), date(2026, 3, 17)
    )
    assert row.words == f"both boots and bag: {words}"


def test_who_may_say_that_she_comes_twice(
    stranger: Counter, bench: Counter, counter: Counter, store: Store, job: Job
):
    bench.get("/")
    assert bench.post(f"/tickets/{job.ticket_id}/comes-twice").status_code == 403
    assert stranger.client.post(f"/tickets/{job.ticket_id}/comes-twice").status_code == 401
    assert counter.get(f"/tickets/{job.ticket_id}/comes-twice").status_code == 405
    assert tickets.get(store, job.ticket_id).come_twice == 0
