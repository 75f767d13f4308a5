"""Telling customers: the words fit what is here, a part is called about only when she agreed, and
reminders keep the shop's own days.
"""

from __future__ import annotations

from datetime import date, timedelta
from html import unescape

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import calls as front_desk_calls
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.shop import Shop, read
from fitcounter.store import contacts, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    """Both boots on the shelf, the bag still at the bench until Thursday."""
    made = make_job(store, Act(clock.now, 1))
    for item_id in (made.left, made.right):
        catch_up(
            store,
            Act(clock.now, 1),
            item_id,
            "shelved",
            StepInput(clock.now, columns={"shelf": "C2"}),
        )
    with store.write_tx():
        store.change("items", made.bag, promised_day="2026-03-19")
    return made


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


@pytest.mark.parametrize(
    ("ready_for", "again_after"),
    [(0, 7), (6, 1), (7, 7), (20, 10), (75, 15), (90, 30), (200, 30)],
)
def test_she_knows_comes_back_on_the_shop_s_next_reminder_day_counted_from_when_it_was_ready(
    ready_for: int, again_after: int
):
    """Days 7, 14, 30, 60 and 90; after the last as far apart as the last two."""
    today = date(2026, 3, 17)
    since = today - timedelta(days=ready_for)
    assert front_desk_calls.next_reminder(Shop(), since, today) == today + timedelta(
        days=again_after
    )


def test_a_shop_with_one_reminder_or_none_still_asks_again(store: Store):
    today = date(2026, 3, 17)
    assert front_desk_calls.next_reminder(
        Shop(reminders_days=(10,)), today, today
    ) == today + timedelta(days=10)
    assert front_desk_calls.next_reminder(
        Shop(reminders_days=()), today - timedelta(days=30), today
    ) == today + timedelta(days=7)


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


def test_what_goes_back_undone_is_not_called_ready_for_her(store: Store, clock: Clock):
    """In her own language too; where something else was done, all of it is ready."""
    made = make_job(store, Act(clock.now, 1), state="declined")
    ticket, here = tickets.get(store, made.ticket_id), read(store)
    words = front_desk_calls.message(
        store, ticket_rows.row_of(store, ticket, here, date(2026, 3, 17)), here, clock.now
    ).words
    assert words.startswith(
        f"Hi Marisol, this is {here.name}. We could not do the work. Your order is ready to pick up"
    )
    with store.write_tx():
        store.db.execute("UPDATE customers SET language = 'es'")
    spanish = front_desk_calls.message(
        store, ticket_rows.row_of(store, ticket, here, date(2026, 3, 17)), here, clock.now
    ).words
    assert "No hemos podido hacer el trabajo. Ya puedes recoger tu encargo" in spanish
    with store.write_tx():
        store.db.execute("UPDATE customers SET language = 'en'")
        store.change("items", made.bag, state="shelved")
    assert (
        "Everything is ready"
        in front_desk_calls.message(
            store, ticket_rows.row_of(store, ticket, here, date(2026, 3, 17)), here, clock.now
        ).words
    )


def test_no_answer_on_the_last_day_of_the_week_comes_back_when_the_shop_is_open_again(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    """Saturday; the shop is closed on Sunday and Monday, and Tuesday is a holiday."""
    catch_up(store, Act(clock.now, 1), job.bag, "shelved", StepInput(clock.now))
    clock.on(days=4)
    closed = {"from_day": "2026-03-24", "to_day": "2026-03-24", "kind": "closed"}
    with store.write_tx():
        store.insert("closures", **closed)
    act = Act(clock.now, 1)
    front_desk_calls.keep(store, act, read(store), job.ticket_id, "no-answer")
    assert contacts.calls_of_ticket(store, job.ticket_id)[-1].again_day == "2026-03-25"


@pytest.mark.parametrize(
    ("hours_on", "sentence"),
    [
        (0, "We are open until 6:00 PM."),
        (10, "We are open again on Wed, Mar 18, 9:00 AM to 6:00 PM."),
        (4 * 24 + 10, "We are open again on Tue, Mar 24, 9:00 AM to 6:00 PM."),
    ],
)
def test_a_text_says_when_the_shop_is_open_as_seen_from_now(
    store: Store, job: Job, clock: Clock, hours_on: int, sentence: str
):
    catch_up(store, Act(clock.now, 1), job.bag, "shelved", StepInput(clock.now))
    here, ticket = read(store), tickets.get(store, job.ticket_id)
    clock.on(minutes=60 * hours_on)
    row = ticket_rows.row_of(store, ticket, here, here.today(clock.now))
    assert sentence in front_desk_calls.message(store, row, here, clock.now).words
