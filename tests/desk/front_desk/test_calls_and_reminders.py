"""Who is to be called, when again, and what a text says."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job
from support.two_boots_shelved import two_boots_shelved

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import calls_and_reminders, ticket_rows
from fitcounter.desk.shop import Shop, read
from fitcounter.store import contacts, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return two_boots_shelved(store, Act(clock.now, 1))


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
    assert calls_and_reminders.next_reminder(Shop(), since, today) == today + timedelta(
        days=again_after
    )


def test_a_shop_with_one_reminder_or_none_still_asks_again(store: Store):
    today = date(2026, 3, 17)
    assert calls_and_reminders.next_reminder(
        Shop(reminders_days=(10,)), today, today
    ) == today + timedelta(days=10)
    assert calls_and_reminders.next_reminder(
        Shop(reminders_days=()), today - timedelta(days=30), today
    ) == today + timedelta(days=7)


def test_what_goes_back_undone_is_not_called_ready_for_her(store: Store, clock: Clock):
    """In her own language too; where something else was done, all of it is ready."""
    made = make_job(store, Act(clock.now, 1), state="declined")
    ticket, here = tickets.get(store, made.ticket_id), read(store)
    words = calls_and_reminders.message(
        store, ticket_rows.row_of(store, ticket, here, date(2026, 3, 17)), here, clock.now
    ).words
    assert words.startswith(
        f"Hi Marisol, this is {here.name}. We could not do the work. Your order is ready to pick up"
    )
    with store.write_tx():
        store.db.execute("UPDATE customers SET language = 'es'")
    spanish = calls_and_reminders.message(
        store, ticket_rows.row_of(store, ticket, here, date(2026, 3, 17)), here, clock.now
    ).words
    assert "No hemos podido hacer el trabajo. Ya puedes recoger tu encargo" in spanish
    with store.write_tx():
        store.db.execute("UPDATE customers SET language = 'en'")
        store.change("items", made.bag, state="shelved")
    assert (
        "Everything is ready"
        in calls_and_reminders.message(
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
    calls_and_reminders.keep(store, act, read(store), job.ticket_id, "no-answer")
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
    assert sentence in calls_and_reminders.message(store, row, here, clock.now).words
