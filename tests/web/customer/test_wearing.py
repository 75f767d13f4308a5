"""What a customer says about wearing the boots in is asked about where it is odd, can be undone,
and told for a day that went by.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.fit.wear.schedule import replanned
from fitcounter.fit.wear.wear import preset
from fitcounter.store import contacts, wears
from fitcounter.store.database import Store


def states(store: Store, job: Job, clock: Clock) -> list[tuple[int, str, int]]:
    """Step, state and day of the month of every entry."""
    plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
    return [(one.n, one.state, one.local_day.day) for one in plan.wears]


def told_of(page: str) -> list[tuple[int, int]]:
    """Step and day of the month of each line of a missed day that offers to tell it."""
    hidden = r'name="n" value="(\d)">\s*<input[^>]*name="day" value="2026-03-(\d\d)"'
    found = [(int(n), int(day)) for n, day in re.findall(hidden, page)]
    assert page.count("I did wear them") == len(found)
    return found


def test_far_more_or_less_than_planned_is_asked_about_once(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=11)
    stranger.get(f"/c/{home}")
    long = stranger.post(f"/c/{home}/wear", n="1", minutes="90")
    assert long.status_code == 422
    assert "Really 90 minutes? Look at your skin." in long.text
    assert 'name="sure" value="1"' in long.text
    assert 'value="90"' in long.text
    short = stranger.post(f"/c/{home}/wear", n="1", minutes="14")
    assert "Only 14 minutes: did something hurt?" in short.text
    assert states(store, job, clock)[0] == (1, "planned", 17)
    assert stranger.post(f"/c/{home}/wear", n="1", minutes="90", sure="1").status_code == 303
    assert states(store, job, clock)[:2] == [(1, "worn", 17), (2, "planned", 19)]


@pytest.mark.parametrize("typed", ["25:99", "half past six", "18h"])
def test_an_hour_that_is_none_is_asked_for_again_and_nothing_is_saved(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock, typed: str
) -> None:
    """It was left out without a word, and the wear saved as if it had ended just now."""
    clock.on(hours=9)
    stranger.get(f"/c/{home}")
    answer = stranger.post(f"/c/{home}/wear", n="1", minutes="30", put_on=typed)
    assert (answer.status_code, "Type a time, like 18:30." in answer.text) == (422, True)
    assert f'value="{typed}"' in answer.text
    assert states(store, job, clock)[0][1] == "planned"


def test_what_waited_on_a_phone_is_saved_as_it_was_told(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=11)
    stranger.get(f"/c/{home}")
    typed = {"n": "1", "minutes": "10", "csrf_token": stranger.token()}
    answer = stranger.client.post(f"/c/{home}/wear", data=typed, headers={"Outbox": "later"})
    assert answer.status_code < 400
    assert states(store, job, clock)[0] == (1, "worn", 17)


@pytest.mark.parametrize(
    ("put_on", "ago"),
    [("19:36", "31"), ("16:04", "31"), ("19:04", "31"), ("19:04", ""), ("19:04", "soon")],
)
def test_a_phone_whose_clock_is_wrong_says_how_long_ago_they_were_put_on(
    stranger: Counter, store: Store, home: str, job: Job, clock: Clock, put_on: str, ago: str
) -> None:
    """An hour that is still to come was taken for yesterday's."""
    clock.on(hours=9, minutes=35)
    stranger.get(f"/c/{home}")
    typed = {"n": "1", "minutes": "30", "put_on": put_on, "ago": ago}
    assert stranger.post(f"/c/{home}/wear", **typed).status_code == 303
    plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
    (worn,) = [one for one in plan.wears if one.state == "worn"]
    assert worn.actual_start == datetime(2026, 3, 17, 23, 4, tzinfo=UTC)


def test_a_wear_not_today_and_an_hour_are_undone_by_one_button(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=10)
    before = states(store, job, clock)
    for path, typed, undo in (
        ("wear", {"n": "1", "minutes": "44"}, "Undo: I did not wear them"),
        ("not-today", {"n": "1"}, "Undo: I can wear them today"),
        ("hour", {"evening": "20:15"}, "Undo: keep the old time"),
    ):
        stranger.get(f"/c/{home}")
        assert stranger.post(f"/c/{home}/{path}", **typed).status_code == 303
        assert undo in stranger.get(f"/c/{home}").text
        assert stranger.post(f"/c/{home}/undo").status_code == 303
        assert states(store, job, clock) == before
        assert "Undo:" not in stranger.get(f"/c/{home}").text
        assert stranger.post(f"/c/{home}/undo").status_code == 422
    open_now = contacts.due_follow_ups(store, date(2026, 3, 18))
    assert "overlong" not in [one.kind for one in open_now]


def test_the_same_wear_told_twice_is_undone_by_one_button(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    """By two phones, or a page gone back to: the second one changed nothing, and hid the first
    from the undo.
    """
    clock.on(hours=9)
    stranger.get(f"/c/{home}")
    for _ in range(2):
        assert stranger.post(f"/c/{home}/wear", n="1", minutes="30").status_code == 303
        stranger.get(f"/c/{home}")
    assert [state for _, state, _ in states(store, job, clock)] == ["worn", "planned", "planned"]
    assert stranger.post(f"/c/{home}/undo").status_code == 303
    assert [state for _, state, _ in states(store, job, clock)] == ["planned"] * 3


def test_a_missed_day_can_be_told_from_its_own_line(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    clock.on(days=2)
    page = stranger.get(f"/c/{home}").text
    assert page.count("I did wear them") == 2
    assert 'name="day" value="2026-03-17"' in page
    typed = {"n": "1", "day": "2026-03-17", "minutes": "30", "put_on": "18:10"}
    assert stranger.post(f"/c/{home}/wear", **typed).status_code == 303
    assert states(store, job, clock)[0] == (1, "worn", 17)


def test_each_day_of_a_week_without_boots_can_be_told_from_its_own_line(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    """Only the first one could. The days before and after the one that is told can still be."""
    clock.on(days=8)
    page = stranger.get(f"/c/{home}").text
    assert told_of(page) == [(1, day) for day in range(17, 25)]
    typed = {"n": "1", "day": "2026-03-20", "minutes": "30", "put_on": "18:10"}
    assert stranger.post(f"/c/{home}/wear", **typed).status_code == 303
    assert (1, "worn", 20) in states(store, job, clock)
    told = told_of(stranger.get(f"/c/{home}").text)
    assert told == [(1, 17), (1, 18), (1, 19), *((2, day) for day in range(21, 25))]
    typed = {"n": "1", "day": "2026-03-18", "minutes": "30", "put_on": "18:10"}
    assert stranger.post(f"/c/{home}/wear", **typed).status_code == 303
    assert told_of(stranger.get(f"/c/{home}").text) == [one for one in told if one != (1, 18)]


def test_a_missed_day_can_be_told_after_the_calendar_began_again(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    """As a wear that is no step of the new beginning; its line goes, that of other days stays."""
    clock.on(days=8)
    stranger.get(f"/c/{home}")
    assert stranger.post(f"/c/{home}/again", again="yes").status_code == 303
    page = stranger.get(f"/c/{home}").text
    assert page.count("Not worn, before you started again") == 8
    assert told_of(page) == [(0, day) for day in range(17, 25)]
    for day in ("17", "20"):
        typed = {"n": "0", "day": f"2026-03-{day}", "minutes": "30", "put_on": "18:10"}
        assert stranger.post(f"/c/{home}/wear", **typed).status_code == 303
        assert (0, "worn", int(day)) in states(store, job, clock)
    assert told_of(stranger.get(f"/c/{home}").text) == [(0, n) for n in (18, 19, 21, 22, 23, 24)]
    first = next(one for one in states(store, job, clock) if one[1] == "planned")
    assert first[0] == 1
    assert "A week without your boots on" not in stranger.get(f"/c/{home}").text


def test_an_hour_at_night_is_asked_about(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    stranger.get(f"/c/{home}")
    for hour in ("22:00", "03:30", "06:59"):
        answer = stranger.post(f"/c/{home}/hour", evening=hour)
        assert answer.status_code == 422
        assert "That is at night." in answer.text
    assert stranger.post(f"/c/{home}/hour", evening="23:00", sure="1").status_code == 303
    assert "11:00 PM" in stranger.get(f"/c/{home}").text


def test_the_clock_of_the_phone_is_used_where_the_customer_says_so(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    page = stranger.get(f"/c/{home}").text
    assert 'data-zone="America/New_York"' in page
    assert stranger.post(f"/c/{home}/zone", zone="Europe/Madrid").status_code == 303
    plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
    assert plan.to_come[0].start == datetime(2026, 3, 17, 17, 0, tzinfo=UTC)
    assert stranger.post(f"/c/{home}/zone", zone="Moon/Base").status_code == 422


def test_a_week_without_boots_asks_to_start_again_and_the_shop_is_told(
    counter: Counter, stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=11)
    stranger.get(f"/c/{home}")
    stranger.post(f"/c/{home}/wear", n="1", minutes="30")
    clock.on(days=6)
    assert "Start again" not in stranger.get(f"/c/{home}").text
    clock.on(days=2)
    page = stranger.get(f"/c/{home}").text
    assert page.index("A week without your boots on") < page.index('class="press hurts"')
    assert stranger.post(f"/c/{home}/again", again="yes").status_code == 303
    assert states(store, job, clock) == [
        (0, "worn", 17),
        *((0, "missed", day) for day in range(18, 25)),
        (1, "planned", 25),
        (2, "planned", 26),
        (3, "planned", 27),
    ]
    assert "Start again" not in stranger.get(f"/c/{home}").text
    counter.sign_in()
    assert "a week without boots: began again" in counter.get("/").text


def test_a_long_wear_that_starts_before_the_chosen_hour_says_why(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    """Eight hours from six in the evening would end at two in the night."""
    assert "starts earlier" not in stranger.get(f"/c/{home}").text
    with store.write_tx():
        row, plan = wears.get(store, job.ticket_id)
        wears.write(store, row, replanned(replace(plan, rules=preset("growing")), ()))
    page = stranger.get(f"/c/{home}").text
    assert "2:00 PM to 10:00 PM" in page
    assert "starts earlier, so that they are off by 10:00 PM." in page
    assert stranger.post(f"/c/{home}/hour", evening="10:00").status_code == 303
    page = stranger.get(f"/c/{home}").text
    assert "10:00 AM to 6:00 PM" in page
    assert "starts earlier" not in page
