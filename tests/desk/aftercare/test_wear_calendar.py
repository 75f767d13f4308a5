"""The calendar after pickup follows what the customer reports and chooses."""

from __future__ import annotations

from datetime import date, timedelta

from support.cast import Clock

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.store import contacts
from fitcounter.store.database import Act, Store


def test_a_wear_recorded_twice_counts_once(store: Store, home, clock: Clock):
    start = wear_calendar.current(store, home.ticket_id, clock.now).plan.to_come[0].start
    clock.now = start + timedelta(hours=1)
    for _ in range(2):
        wear_calendar.record_wear(
            store,
            Act(clock.now, submission_id="wear-one-1", body_hash="x"),
            home.ticket_id,
            1,
            start,
            30,
        )
    plan = wear_calendar.current(store, home.ticket_id, clock.now).plan
    assert [wear.state for wear in plan.wears] == ["worn", "planned", "planned"]
    assert plan.to_come[0].start - start == timedelta(hours=24)


def test_a_wear_over_its_time_is_on_the_shops_list(store: Store, home, clock: Clock):
    start = wear_calendar.current(store, home.ticket_id, clock.now).plan.to_come[0].start
    clock.now = start + timedelta(hours=2)
    wear_calendar.record_wear(store, Act(clock.now), home.ticket_id, 1, start, 55)
    assert "overlong" in [one.kind for one in contacts.due_follow_ups(store, date(2026, 3, 18))]


def test_not_today_moves_it_and_raises_the_sequence_for_the_phone(store: Store, home, clock: Clock):
    before = wear_calendar.current(store, home.ticket_id, clock.now)
    clock.now = before.plan.to_come[0].start
    wear_calendar.not_today(store, Act(clock.now), home.ticket_id, 1)
    after = wear_calendar.current(store, home.ticket_id, clock.now)
    assert after.plan.to_come[0].start == before.plan.to_come[0].start + timedelta(days=1)
    assert after.row.sequence == before.row.sequence + 1


def test_a_chosen_hour_moves_the_wears_to_come(store: Store, home, act: Act):
    wear_calendar.choose_hour(store, act, home.ticket_id, 20, 30)
    plan = wear_calendar.current(store, home.ticket_id, act.at).plan
    assert [wear.start.astimezone(plan.clock.zone).strftime("%H:%M") for wear in plan.to_come] == [
        "20:30"
    ] * 3
