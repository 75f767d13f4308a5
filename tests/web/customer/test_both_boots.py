"""The calendar begins when both boots are at home, or for one alone where that is agreed; while one
is away the page says of each whether to wear it.
"""

from __future__ import annotations

import pytest
from icalendar import Calendar
from support.cast import Clock, Counter
from support.ticket_rows import Job

from fitcounter.desk.aftercare import not_right
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store import wears
from fitcounter.store.database import Act, Store


@pytest.fixture
def shelved(store: Store, job: Job, clock: Clock) -> Job:
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(clock.now, 1), item_id, "shelved", StepInput(clock.now))
    return job


def hand_over(counter: Counter, job: Job, *things: int, **more: str) -> str:
    path = f"/pickup/{job.ticket_id}"
    counter.get(path)
    typed = {"collected_by": "Marisol", "preset": "three-short-wears", "evening": "18:00"}
    answer = counter.post(path, items=[str(one) for one in things], part="y", **typed, **more)
    assert answer.status_code == 303, answer.text
    return counter.get(answer.headers["Location"]).text


def test_one_boot_alone_does_not_start_the_calendar_of_both(
    counter: Counter, stranger: Counter, store: Store, shelved: Job, token: str, clock: Clock
) -> None:
    said = hand_over(counter, shelved, shelved.left)
    assert "The wearing-in calendar begins when both boots are home." in said
    page = stranger.get(f"/c/{token}").text
    assert "Your left boot: leave it off until both are at home." in page
    assert "Your right boot: at the shop." in page
    assert stranger.get(f"/c/{token}/calendar.ics").status_code == 404
    clock.on(days=1)
    assert "is on the customer’s page now." in hand_over(counter, shelved, shelved.right)
    page = stranger.get(f"/c/{token}").text
    assert "leave it off" not in page
    assert "Let your boots rest until Wed, Mar 18, 6:00 PM." in page


def test_one_boot_is_worn_in_alone_where_that_is_agreed_and_both_begin_anew(
    counter: Counter, stranger: Counter, store: Store, shelved: Job, token: str, clock: Clock
) -> None:
    hand_over(counter, shelved, shelved.left, alone="y")
    clock.on(hours=9)
    page = stranger.get(f"/c/{token}").text
    assert "Today, wear your left boot for 30 minutes" in page
    assert "Your left boot: wear it as the calendar says." in page
    assert "Your right boot: at the shop." in page
    events = Calendar.from_ical(stranger.get(f"/c/{token}/calendar.ics").data).walk("VEVENT")
    assert str(events[0]["summary"]) == "Left boot on for 30 minutes (1 of 3)"
    assert "Your left boot: wear it" in stranger.get(f"/c/{token}/calendar.html").text
    clock.on(hours=1)
    assert stranger.post(f"/c/{token}/wear", n="1", minutes="30").status_code == 303
    clock.on(days=1)
    hand_over(counter, shelved, shelved.right)
    plan = wears.get(store, shelved.ticket_id)[1]
    assert (plan.boots, [wear.state for wear in plan.wears]) == ("", ["planned"] * 3)
    assert store.rows("SELECT n, actual_minutes FROM earlier_wears") == [
        {"n": 1, "actual_minutes": 30}
    ]


@pytest.mark.parametrize("goes_on", [True, False])
def test_a_comeback_says_of_each_boot_whether_to_wear_it(
    counter: Counter, stranger: Counter, job: Job, home: str, clock: Clock, goes_on: bool
) -> None:
    clock.on(hours=9)
    path = f"/tickets/{job.ticket_id}/back"
    counter.get(path)
    typed = {"said": "tight", f"boot-{job.left}": "15", "other": "yes" if goes_on else "no"}
    assert counter.post(path, **typed).status_code == 303
    page = stranger.get(f"/c/{home}").text
    saved = stranger.get(f"/c/{home}/calendar.html").text
    assert "Your left boot: at the shop." in page
    if goes_on:
        assert "Today, wear your right boot for 30 minutes" in page
        assert "Your right boot: wear it as the calendar says." in saved
    else:
        assert "Your right boot: leave it off until both are at home." in page
        assert "Today, wear" not in page
        assert "Boots off until both boots are at home." in saved


def test_what_the_shop_answers_while_it_has_both_boots_stands_on_the_page(
    counter: Counter, stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    path = f"/tickets/{job.ticket_id}/back"
    counter.get(path)
    back = {"said": "tight", f"boot-{job.left}": "15", f"boot-{job.right}": "15"}
    assert counter.post(path, **back).status_code == 303
    assert "See a doctor first" not in stranger.get(f"/c/{home}").text
    seen = not_right.standing(store, job.ticket_id).seen
    said = not_right.ShopAnswer("doctor", "Show your foot first.", None, seen)
    not_right.answer(store, Act(clock.now, 1), job.ticket_id, said)
    page = stranger.get(f"/c/{home}").text
    assert "<strong>Boots off. See a doctor first.</strong>" in page
    assert "Show your foot first." in page
