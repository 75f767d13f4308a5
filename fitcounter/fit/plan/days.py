"""The days on which somebody is at the bench, and the same days as numbers from today.

Whole shop days: the bench plan never looks at hours. Day 0 is today. No published standard stands
behind this.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from fitcounter.errors import BadInput, message
from fitcounter.fit.handbook.bench import (
    HORIZON_DAYS,
    HOURS_A_DAY,
    MOST_HOLD_H,
    MOST_REST_DAYS,
    MOST_WORK_DAYS,
)

_TABLE_DAYS = HORIZON_DAYS + 2 * (MOST_HOLD_H // HOURS_A_DAY + MOST_REST_DAYS + MOST_WORK_DAYS)
"""The tables reach past the horizon, so that a hold begun on its last day still has an end."""


@dataclass(frozen=True, slots=True)
class OpenDays:
    """When the bench works.

    today: the shop's local day the plan is made on. weekdays: open weekdays, Monday is 0, at least
    one of 0-6.
    closed: single days shut (holidays). away: spans (first day, last day) without anybody at the
    bench, both included. Raises BadInput when no weekday is open or a span ends before it begins.
    """

    today: date
    weekdays: frozenset[int]
    closed: frozenset[date] = frozenset()
    away: tuple[tuple[date, date], ...] = ()

    def __post_init__(self) -> None:
        if not self.weekdays & frozenset(range(7)):
            raise BadInput(
                message("Pick at least one weekday when the bench is open."), field="weekdays"
            )
        for first, last in self.away:
            if last < first:
                raise BadInput(
                    message("The last day is before the first. Type both days again."),
                    field="away",
                    typed=last.isoformat(),
                )

    def is_open(self, day: date) -> bool:
        """True when boots can be prepared, put on, taken off, read or finished that day."""
        if day.weekday() not in self.weekdays or day in self.closed:
            return False
        return not any(first <= day <= last for first, last in self.away)


@dataclass(frozen=True, slots=True)
class DayTable:
    """The open days as numbers from today.

    open_mask: bit d is set when day d is open, for d below the horizon. next_open[d]: the first
    open day from d on.
    never: the number that stands for "not within the tables".
    """

    today: date
    open_mask: int
    next_open: tuple[int, ...]
    never: int

    def number(self, day: date) -> int:
        """Days from today: 0 for today and for days gone by, `never` for days past the tables."""
        return min(max(0, (day - self.today).days), self.never)

    def date(self, number: int) -> date:
        """The date of a day number."""
        return self.today + timedelta(days=number)

    def open_from(self, number: int) -> int:
        """The first open day from this number on; `never` when there is none within the tables."""
        return self.next_open[min(number, self.never)]

    def open_until(self, number: int) -> int:
        """The last open day up to this number; 0 where there is none."""
        while number > 0 and self.next_open[number] != number:
            number -= 1
        return number


def day_table(days: OpenDays) -> DayTable:
    """Number the open days from today."""
    opened = [days.is_open(days.today + timedelta(days=number)) for number in range(_TABLE_DAYS)]
    following = [_TABLE_DAYS] * (_TABLE_DAYS + 1)
    for number in reversed(range(_TABLE_DAYS)):
        following[number] = number if opened[number] else following[number + 1]
    mask = sum(1 << number for number in range(HORIZON_DAYS) if opened[number])
    return DayTable(days.today, mask, tuple(following), _TABLE_DAYS)
