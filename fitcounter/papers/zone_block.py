"""The clock changes of a zone as a calendar file tells them: VTIMEZONE, RFC 5545 3.6.5."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

ONE_DAY, ONE_MINUTE = timedelta(days=1), timedelta(minutes=1)


def zone_block(zone: str, first: datetime, days: int) -> Timezone:
    """The zone's offset at `first` (aware) and each change in the days after it.

    zone: an IANA name. Each observance begins on the clock that it ends, as the standard asks.
    """
    here = ZoneInfo(zone)
    block = Timezone()
    block.add("tzid", zone)
    start = first.astimezone(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
    block.add_component(_observance(here, start, _offset(here, start)))
    for before in (start + n * ONE_DAY for n in range(days)):
        if _offset(here, before) != _offset(here, before + ONE_DAY):
            change = _change(here, before)
            block.add_component(_observance(here, change, _offset(here, change - ONE_MINUTE)))
    return block


def _change(here: ZoneInfo, before: datetime) -> datetime:
    """The first minute of the new offset within the day after `before`."""
    low, high = 0, 24 * 60  # minutes; the old offset holds at low, the new one at high
    while high - low > 1:
        middle = (low + high) // 2
        is_old = _offset(here, before + middle * ONE_MINUTE) == _offset(here, before)
        low, high = (middle, high) if is_old else (low, middle)
    return before + high * ONE_MINUTE


def _observance(
    here: ZoneInfo, since: datetime, offset_before: timedelta
) -> TimezoneDaylight | TimezoneStandard:
    local = since.astimezone(here)
    part = TimezoneDaylight() if local.dst() else TimezoneStandard()
    part.add("dtstart", (since + offset_before).replace(tzinfo=None))
    part.add("tzname", local.tzname() or "")
    part.add("tzoffsetfrom", offset_before)
    part.add("tzoffsetto", _offset(here, since))
    return part


def _offset(here: ZoneInfo, at: datetime) -> timedelta:
    return at.astimezone(here).utcoffset() or timedelta()
