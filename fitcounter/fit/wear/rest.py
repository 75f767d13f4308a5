"""The rest rule between two wears: elapsed hours counted in UTC, shown on the clock of the wearer's
own zone.

**The rule, as the shop reads it.** A wear starts at the hour the customer chose, on the first day
on which the rest is over. Where the rest ends later on that day than her hour, the wear starts when
the rest ends. The rest is elapsed time, never the difference of two clock readings:

- a day of 24 hours: 18:00 one day, 18:00 the next;
- a day of 23 hours (clocks go forward between the two): her hour would be only 23 hours later, so
the wear starts at 19:00,
  and stays there as long as she wears them daily, because 24 hours later it is 19:00 again;
- a day of 25 hours (clocks go back): her hour comes 25 hours later, the rest is over, the start
stays at 18:00; a start that
  had slipped to 19:00 comes back to 18:00 here;
- strict form, rest from taking off: the start slips by the length of each wear, 18:00, 18:30,
19:00;
- a rest that ends between ten at night and seven in the morning waits for her hour, unless that
hour is at night too;
- a wear so long that it would go on past ten at night from her hour starts earlier, at seven at the
earliest; where the rest ends too late for that, on the next day; one from an hour at night, which
she was asked about, starts as she chose;
- a rest that ends after midnight does not send her into the boots at night: the wear waits for her
hour on that new day.

A clock time that does not exist (the hour left out) is read with the offset before the change, so
02:30 becomes 03:30; one that comes twice means the first (RFC 5545 §3.3.5). A start that would fall
into the second pass of a doubled hour waits until the hour is over, because a phone's calendar,
which knows only clock times, would ring at the first pass and cut the rest short.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from fitcounter.errors import BadInput, message
from fitcounter.fit.handbook.wearing import LAST_HOUR, LAST_MINUTE, NIGHT_FROM_H, NIGHT_TO_H

ONE_DAY = timedelta(days=1)
ONE_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Clock:
    """The hour a customer chose, in her zone. hour 0–23, minute 0–59."""

    zone: ZoneInfo
    hour: int
    minute: int

    def day_of(self, moment: datetime) -> date:
        """The local date of an instant."""
        return moment.astimezone(self.zone).date()

    def at(self, day: date) -> datetime:
        """The UTC instant of her hour on that day; left-out and doubled times as in the module's
        text.
        """
        return datetime(
            day.year, day.month, day.day, self.hour, self.minute, tzinfo=self.zone
        ).astimezone(UTC)

    def start_of(self, day: date) -> datetime:
        """The UTC instant at which that local day begins."""
        return datetime(day.year, day.month, day.day, tzinfo=self.zone).astimezone(UTC)

    def for_wear(self, minutes: int) -> Clock:
        """Her clock for a wear of so many minutes: earlier where it would go on into the night."""
        if is_night(self.hour) or not self._into_night(self.hour, self.minute, minutes):
            return self
        latest = timedelta(hours=NIGHT_FROM_H) - timedelta(minutes=minutes)
        midnight = datetime.min.replace(tzinfo=UTC)
        start = (midnight + max(latest, timedelta(hours=NIGHT_TO_H))).time()
        return replace(self, hour=start.hour, minute=start.minute)

    def _into_night(self, hour: int, minute: int, minutes: int) -> bool:
        """Whether boots put on by day at that time would still be on at ten at night."""
        return timedelta(hours=hour, minutes=minute + minutes) > timedelta(hours=NIGHT_FROM_H)

    def next_start(self, earliest: datetime, first_day: date, minutes: int = 0) -> datetime:
        """When the next wear may start: a UTC instant, a whole minute, not before `earliest`, not
        on a day before `first_day`.

        earliest: UTC instant at which the rest is over. first_day: local date before which no wear
        is wanted. minutes: how long the wear is, where her hour is by day.
        """
        rested = whole_minute(earliest)
        day = max(first_day, self.day_of(rested))
        start = max(self.at(day), rested)
        if not is_night(self.hour) and self._waits(start, minutes):
            start = self.at(day if self.at(day) > start else day + ONE_DAY)
        while start.astimezone(self.zone).fold:
            start += ONE_MINUTE
        return start

    def _waits(self, start: datetime, minutes: int) -> bool:
        """Whether a wear from then would be at night, where from her own hour it would not."""
        local = start.astimezone(self.zone)
        return is_night(local.hour) or (
            self._into_night(local.hour, local.minute, minutes)
            and not self._into_night(self.hour, self.minute, minutes)
        )

    def first_start(self, picked_up: datetime, first_day: date) -> datetime:
        """When the first wear may start: at the chosen hour, within 24 elapsed hours of pickup.

        On a day of 25 hours the chosen hour may come later than that; then the 24 hours win. A
        `first_day` later than the day this gives (missed, put off) wins over both.
        """
        day = self.day_of(picked_up)
        if self.at(day) < picked_up:
            day += ONE_DAY
        if first_day > day:
            return self.at(first_day)
        return min(self.at(day), (picked_up + ONE_DAY).replace(second=0, microsecond=0))


def is_night(hour: int) -> bool:
    """Whether nobody is asked to put boots on at that hour of the clock."""
    return hour >= NIGHT_FROM_H or hour < NIGHT_TO_H


def clock(zone: str, hour: int, minute: int) -> Clock:
    """The clock of that IANA zone ("America/New_York") and time.

    Raises BadInput for a zone or a time that does not exist.
    """
    if not (0 <= hour <= LAST_HOUR and 0 <= minute <= LAST_MINUTE):
        raise BadInput(
            message("Give a time of day between 00:00 and 23:59."),
            typed=f"{hour}:{minute:02}",
            field="hour",
        )
    try:
        return Clock(ZoneInfo(zone), hour, minute)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise BadInput(
            message("Choose a time zone from the list, such as Europe/Madrid."),
            typed=zone,
            field="zone",
        ) from error


def in_utc(moment: datetime) -> datetime:
    """The same instant in UTC.

    A time without its zone would mean whatever the machine's zone is, so it is a ValueError.
    """
    if moment.tzinfo is None:
        raise ValueError("a moment needs its zone")
    return moment.astimezone(UTC)


def whole_minute(moment: datetime) -> datetime:
    """The instant, or the next whole minute after it: a start is never rounded into the rest."""
    floor = moment.replace(second=0, microsecond=0)
    return floor if floor == moment else floor + ONE_MINUTE
