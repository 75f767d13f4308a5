"""What becomes of a phone's events when a plan moves, is called off or was worn, and over the hours
at which clocks change.
"""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import recurring_ical_events
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar
from papers.phone_calendar import PICKED_UP, events, local, plan, sheet_of

from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import EXTRA, preset
from fitcounter.fit.wear.wear_calendar import call_off, make_plan, not_today, record_wear
from fitcounter.papers.calendar_ics import calendar_ics

__all__ = ["plan"]


def test_an_update_replaces_every_event_and_names_no_new_one(plan):
    """Not today: the same UIDs, a higher sequence, a newer stamp, each wear a day later and never
    twice.
    """
    old = events(sheet_of(plan, sequence=3))
    moved = not_today(plan, 1, PICKED_UP + timedelta(hours=1))
    later = PICKED_UP + timedelta(hours=1)
    new = events(sheet_of(moved, sequence=4, stamped_at=later))
    assert new.keys() == old.keys()
    for uid, event in new.items():
        assert (old[uid]["sequence"], event["sequence"]) == (3, 4)
        assert old[uid].DTSTAMP == PICKED_UP
        assert event.DTSTAMP == event.LAST_MODIFIED == later
        assert event.start - old[uid].start == timedelta(days=0 if "guarantee" in uid else 1)
        assert event["status"] == "CONFIRMED"


def test_withdrawn_wears_are_cancelled_with_what_would_have_followed_and_the_worn_one_stays(plan):
    """The boots are back in the shop; the guarantee still ends on its day."""
    worn = record_wear(plan, 1, plan.wears[0].start, 30, plan.wears[0].end)
    found = events(sheet_of(call_off(worn, plan.wears[0].end), sequence=2))
    assert {uid.removeprefix("6f1c2a-"): str(event["status"]) for uid, event in found.items()} == {
        "wear-1": "CONFIRMED",
        "wear-2": "CANCELLED",
        "wear-3": "CANCELLED",
        "ordinary": "CANCELLED",
        "whole_day": "CANCELLED",
        "guarantee": "CONFIRMED",
    }
    assert not any(event.walk("VALARM") for event in found.values())


def test_what_was_worn_is_shown_as_it_was_and_rings_no_more(plan):
    """On at half past seven for forty minutes; extra wears and missed days are history, not
    events.
    """
    started = plan.wears[0].start + timedelta(minutes=90)
    told = record_wear(plan, 1, started, 40, started + timedelta(minutes=40))
    told = record_wear(told, EXTRA, started + timedelta(hours=2), 5, started + timedelta(hours=3))
    found = events(sheet_of(move_missed(told, started + timedelta(days=5))))
    assert sorted(uid for uid in found if "wear" in uid) == [
        "6f1c2a-wear-1",
        "6f1c2a-wear-2",
        "6f1c2a-wear-3",
    ]
    first = found["6f1c2a-wear-1"]
    assert first.start == local(2026, 11, 23, 19, 30)
    assert first.duration == timedelta(minutes=40)
    assert not first.walk("VALARM")
    assert len(found["6f1c2a-wear-2"].walk("VALARM")) == 2


def test_a_wear_over_a_doubled_hour_still_ends_after_it_begins():
    """From 01:45 half an hour ends at 01:15 on the clock: the file says how long it is, and the
    alarm rings after thirty real minutes.
    """
    plan = make_plan(
        datetime(2026, 10, 31, 15, tzinfo=UTC),
        clock("America/New_York", 1, 45),
        preset("three-short-wears"),
    )
    sheet = sheet_of(plan)
    assert sheet.wears[0].end_local < sheet.wears[0].start_local
    event = events(sheet)["6f1c2a-wear-1"]
    assert event.start == local(2026, 11, 1, 1, 45)
    assert "dtend" not in event
    assert event["duration"].dt == timedelta(minutes=30)
    assert [alarm.TRIGGER for alarm in event.walk("VALARM")] == [timedelta(), timedelta(minutes=30)]


def test_a_wear_over_the_hour_left_out_ends_when_the_clock_says_and_rings_after_its_minutes():
    """From 01:45 half an hour ends at 03:15 on the clock."""
    plan = make_plan(
        datetime(2026, 3, 7, 15, tzinfo=UTC),
        clock("America/New_York", 1, 45),
        preset("three-short-wears"),
    )
    event = events(sheet_of(plan))["6f1c2a-wear-1"]
    assert (event.start, event.end) == (local(2026, 3, 8, 1, 45), local(2026, 3, 8, 3, 15))
    assert [alarm.TRIGGER for alarm in event.walk("VALARM")] == [timedelta(), timedelta(minutes=30)]


@given(
    st.datetimes(
        datetime.fromisoformat("2024-01-01"),
        datetime.fromisoformat("2032-12-31"),
        timezones=st.just(UTC),
    ),
    st.sampled_from(["America/New_York", "Europe/Madrid", "Australia/Lord_Howe", "Asia/Beirut"]),
    st.integers(0, 23),
    st.sampled_from(["three-short-wears", "growing"]),
    st.integers(0, 12),
)
@settings(derandomize=True, deadline=None, max_examples=60)
def test_a_calendar_program_shows_each_wear_on_the_day_and_at_the_time_of_the_plan(
    picked_up, zone, hour, name, days_later
):
    """Plans of both kinds in four zones over nine years, some days missed, expanded day by day by
    another library.
    """
    plan = move_missed(
        make_plan(picked_up, clock(zone, hour, 0), preset(name)),
        picked_up + timedelta(days=days_later),
    )
    sheet = sheet_of(plan)
    shown = recurring_ical_events.of(Calendar.from_ical(calendar_ics(sheet)))
    for wear in plan.to_come:
        found = [
            event
            for event in shown.at(wear.local_day)
            if str(event["uid"]).startswith(f"6f1c2a-wear-{wear.n}")
        ]
        assert [event.start for event in found] == [wear.start.astimezone(ZoneInfo(zone))]
    for day, kind in ((plan.ordinary_from, "ordinary"), (plan.first_whole_day, "whole_day")):
        assert f"6f1c2a-{kind}" in {str(event["uid"]) for event in shown.at(day)}
