"""The clock changes of a zone, read back by another library hour by hour."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from io import StringIO
from zoneinfo import ZoneInfo

import pytest
from dateutil.tz import tzical
from icalendar import Calendar

from fitcounter.papers.zone_block import zone_block

DAYS = 400


@pytest.mark.parametrize(
    "zone",
    [
        *("America/New_York", "Europe/Madrid", "Australia/Lord_Howe", "Asia/Kolkata"),
        *("America/Phoenix", "Asia/Beirut", "Africa/Casablanca", "Pacific/Chatham"),
    ],
)
def test_every_hour_of_a_year_has_the_offset_that_the_zone_has(zone: str):
    """Clock by clock, but for the hours that come twice or not at all."""
    first = datetime(2026, 3, 1, 15, tzinfo=UTC)
    calendar = Calendar()
    calendar.add_component(zone_block(zone, first, DAYS))
    read = tzical(StringIO(calendar.to_ical().decode())).get(zone)
    real, wrong = ZoneInfo(zone), []
    for hour in range(0, DAYS * 24, 3):
        clock = (first + timedelta(hours=hour)).astimezone(real).replace(tzinfo=None)
        both = {clock.replace(tzinfo=real, fold=fold).utcoffset() for fold in (0, 1)}
        if clock.replace(tzinfo=read).utcoffset() not in both:
            wrong.append(clock)
    assert wrong == []
