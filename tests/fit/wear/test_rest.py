"""Rest is counted in elapsed hours, whatever the clocks of the wearer's zone do in the night."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from support.paths import REFERENCE as PUBLISHED

from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import make_plan, record_wear

REFERENCE = json.loads((PUBLISHED / "clock_changes.json").read_text(encoding="utf-8"))
THREE = preset("three-short-wears")
DAY = timedelta(days=1)
ZONES = [
    "Africa/Cairo",
    "Africa/Casablanca",
    "America/Asuncion",
    "America/Chicago",
    "America/Godthab",
    "America/Halifax",
    "America/Havana",
    "America/Los_Angeles",
    "America/New_York",
    "America/Santiago",
    "America/Sao_Paulo",
    "America/St_Johns",
    "Antarctica/Troll",
    "Asia/Beirut",
    "Asia/Jerusalem",
    "Asia/Kolkata",
    "Atlantic/Azores",
    "Australia/Adelaide",
    "Australia/Lord_Howe",
    "Australia/Sydney",
    "Europe/Berlin",
    "Europe/Dublin",
    "Europe/Lisbon",
    "Europe/London",
    "Europe/Madrid",
    "Pacific/Apia",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Easter",
]
HOURS = ((0, 0), (1, 30), (2, 30), (9, 0), (18, 0), (23, 30))


def utc(text):
    """An instant from its ISO text."""
    return datetime.fromisoformat(text)


@pytest.mark.parametrize("case", REFERENCE["cases"], ids=lambda case: case["says"])
def test_starts_are_those_worked_by_hand_from_the_published_clock_rules(case):
    """UTC instants, the clock she reads, and the first day of ordinary wear."""
    rules = replace(THREE, rest_from=case["rest_from"])
    plan = make_plan(
        utc(case["picked_up"]), clock(case["zone"], case["hour"], case["minute"]), rules
    )
    assert [wear.start for wear in plan.wears] == [utc(start) for start in case["starts"]]
    zone = ZoneInfo(case["zone"])
    assert [f"{wear.start.astimezone(zone):%H:%M}" for wear in plan.wears] == case["on_the_clock"]
    assert plan.ordinary_from.isoformat() == case["ordinary_from"]


@cache
def changes(name):
    """Every UTC instant of 2024 to 2032 at which a zone's offset changes, by halving hours from
    zoneinfo alone.
    """
    zone, found = ZoneInfo(name), []
    at, end = datetime(2024, 1, 1, tzinfo=UTC), datetime(2033, 1, 1, tzinfo=UTC)
    while at < end:
        low, high = at, at + DAY
        if low.astimezone(zone).utcoffset() != high.astimezone(zone).utcoffset():
            while high - low > timedelta(minutes=1):
                middle = low + (high - low) // 2
                same = middle.astimezone(zone).utcoffset() == low.astimezone(zone).utcoffset()
                low, high = (middle, high) if same else (low, middle)
            found.append(high.replace(second=0, microsecond=0))
        at += DAY
    return found


@cache
def her_hour(zone, day, hour, minute):
    """The instant of a clock time, by trying the offsets of the days around it and reading the
    clock back.

    Only instants are turned into clock times here, never the other way round as the program does. A
    time that no instant shows is the one the clock would have shown with the offset of the day
    before.
    """
    wall = datetime(day.year, day.month, day.day, hour, minute, tzinfo=UTC)
    noon = wall.replace(hour=12)
    offsets = [
        (noon + timedelta(hours=hours)).astimezone(zone).utcoffset() for hours in range(-36, 37, 12)
    ]
    instants = [wall - offset for offset in offsets]
    shown = [
        instant for instant in instants if instant.astimezone(zone).replace(tzinfo=UTC) == wall
    ]
    return min(shown, default=instants[0])


def expected_next(zone, start, hour, minute):
    """The next start, looked for minute after minute once 24 hours have passed.

    A minute will do if it is on a later day than the last start, not before her hour, and not in
    the second pass of an hour.
    """
    moment, last_day = start + DAY, start.astimezone(zone).date()
    while True:
        local = moment.astimezone(zone)
        if (
            local.date() > last_day
            and not local.fold
            and moment >= her_hour(zone, local.date(), hour, minute)
        ):
            return moment
        moment += timedelta(minutes=1)


@pytest.mark.parametrize("name", ZONES)
def test_every_clock_change_of_nine_years_keeps_24_elapsed_hours(name):
    """Plans that cross each change of each zone, at six hours of the day, against an independent
    calculation.
    """
    zone = ZoneInfo(name)
    for change in changes(name):
        for days_before in (1, 2):
            for hour, minute in HOURS:
                plan = make_plan(
                    change - days_before * DAY - timedelta(hours=7, minutes=13),
                    clock(name, hour, minute),
                    THREE,
                )
                starts = [wear.start for wear in plan.wears]
                assert timedelta() <= starts[0] - plan.picked_up <= DAY
                for before, after in pairwise(starts):
                    assert after == expected_next(zone, before, hour, minute), (
                        name,
                        change,
                        hour,
                        minute,
                    )
                    assert after - before >= DAY
                assert plan.ordinary_from >= plan.wears[-1].local_day + DAY


def test_the_zones_tried_have_changes_of_every_kind():
    """The check above is not empty: over 400 changes in 20 zones or more, an hour, two hours and
    half an hour, both ways.
    """
    found = {name: changes(name) for name in ZONES}
    steps = set()
    for name, moments in found.items():
        zone = ZoneInfo(name)
        for moment in moments:
            before, after = (moment + timedelta(minutes=minutes) for minutes in (-5, 5))
            steps.add(after.astimezone(zone).utcoffset() - before.astimezone(zone).utcoffset())
    assert sum(map(len, found.values())) > 400
    assert sum(1 for moments in found.values() if moments) >= 20
    assert {timedelta(minutes=minutes) for minutes in (-120, -60, -30, 30, 60, 120)} <= steps


def test_a_start_never_falls_into_the_second_pass_of_a_doubled_hour():
    """Put on at 02:10 on the day before, the rest is over at the second 01:10: it waits until
    02:00, when a clock says it once.
    """
    plan = make_plan(utc("2026-10-30T20:00:00Z"), clock("America/New_York", 1, 0), THREE)
    plan = record_wear(plan, 1, utc("2026-10-31T06:10:00Z"), 30, utc("2026-10-31T06:40:00Z"))
    assert plan.to_come[0].start == utc("2026-11-01T07:00:00Z")


def test_a_start_that_slipped_comes_back_to_her_hour_on_a_25_hour_day():
    """19:00 the evening before, 18:00 the evening after: 25 hours have passed."""
    plan = make_plan(utc("2026-10-30T20:00:00Z"), clock("America/New_York", 18, 0), THREE)
    plan = record_wear(plan, 1, utc("2026-10-30T23:00:00Z"), 30, utc("2026-10-30T23:30:00Z"))
    assert [wear.start for wear in plan.to_come] == [
        utc("2026-10-31T23:00:00Z"),
        utc("2026-11-01T23:00:00Z"),
    ]


def test_a_wear_across_the_change_ends_after_its_minutes_not_when_the_clock_says():
    """From 01:45 half an hour is 02:15, a time the clock leaves out that night: it ends at
    03:15.
    """
    plan = make_plan(utc("2026-03-07T20:00:00Z"), clock("America/New_York", 1, 45), THREE)
    wear = plan.wears[0]
    assert wear.end - wear.start == timedelta(minutes=30)
    assert f"{wear.end.astimezone(ZoneInfo('America/New_York')):%d %H:%M}" == "08 03:15"


def test_seconds_of_a_real_start_are_rounded_up_never_into_the_rest():
    """Put on at 18:00:01, the next may start at 18:01."""
    plan = make_plan(utc("2026-06-01T15:00:00Z"), clock("Europe/Madrid", 18, 0), THREE)
    plan = record_wear(plan, 1, utc("2026-06-01T16:00:01Z"), 30, utc("2026-06-01T16:40:00Z"))
    assert plan.to_come[0].start == utc("2026-06-02T16:01:00Z")


def test_a_free_day_between_is_a_whole_local_day_without_boots():
    """A wear that ends after midnight uses up that day too; one that ends at midnight sharp does
    not.
    """
    rules = WearRules((60, 60), free_day_between=True)
    late = make_plan(utc("2026-06-01T10:00:00Z"), clock("Europe/Madrid", 23, 30), rules)
    assert [wear.local_day for wear in late.wears] == [date(2026, 6, 1), date(2026, 6, 4)]
    sharp = make_plan(utc("2026-06-01T10:00:00Z"), clock("Europe/Madrid", 23, 0), rules)
    assert [wear.local_day for wear in sharp.wears] == [date(2026, 6, 1), date(2026, 6, 3)]
    assert (late.ordinary_from, sharp.ordinary_from) == (date(2026, 6, 7), date(2026, 6, 5))
