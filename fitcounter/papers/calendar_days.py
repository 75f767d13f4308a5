"""The days of a wearing-in calendar as lines to print: one a day, whole rests together, what
follows at the end.

The same lines make the PDF and the page to save, so that both say the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Final

from babel.dates import format_date
from babel.units import format_unit
from markupsafe import Markup

from fitcounter.fit.wear.rest import is_night
from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.papers.day_strip import strip_of, whole_day_strip
from fitcounter.papers.html import Say, in_words, on_the_clock

_ONE_DAY: Final = timedelta(days=1)
_MOST_LINES: Final = 48  # what one page of a phone is asked to show
_DAYS_A_WEEK: Final = 7
_NORMAL: Final = 9  # what a sheet of paper holds with room to write beside each day
_MOST_ON_PAPER: Final = 22  # what it holds in its closest setting
_BLANK_IN_NUMBER: Final = re.compile(r"(?<=\d) (?=[^\W\d])|(?<=\w) (?=\d+[):])")


@dataclass(frozen=True, slots=True)
class DayLine:
    """One line. weekday, date_words: in the margin. state: of the wear, or rest, ordinary,
    whole-day, guarantee.

    starts: local, for the wears still to come; minutes: how long they are. put_on: "18:00", local,
    for every wear.
    """

    weekday: str
    date_words: str
    title: str
    detail: str
    state: str
    strip: Markup | None = None
    day: date | None = None
    starts: datetime | None = None
    minutes: int = 0
    n: int = 0
    is_range: bool = False
    put_on: str = ""


def day_lines(sheet: CalendarSheet, say: Say) -> tuple[DayLine, ...]:
    """Every wear, the rests between, and the days that follow, in order; of a very long history the
    latest lines.
    """
    wears = sorted(sheet.wears, key=lambda wear: wear.start_local)
    lines = list(_wears_and_rests(sheet, wears, say))
    if not sheet.withdrawn:
        lines.append(
            _all_day(sheet, sheet.ordinary_from, "ordinary", "ordinary", whole_day_strip())
        )
        lines.append(_all_day(sheet, sheet.first_whole_day, "whole_day", "whole-day", None))
    return _shortened(lines, say)


def density(lines: tuple[DayLine, ...]) -> str:
    """How close the lines must be set for all of them to stand on one page: roomy, normal or
    close.
    """
    return "roomy" if len(lines) <= 5 else "normal" if len(lines) <= _NORMAL else "close"


def for_paper(lines: tuple[DayLine, ...], say: Say) -> tuple[DayLine, ...]:
    """The lines that one sheet holds in letters of 12 points: without the rests where they are
    many, then without the oldest days. A plan has at most 20 wears, so all to come stand there.
    No line of print ends within "30 minutes" or "1 of 3".
    """
    lines = tuple(
        replace(line, title=_BLANK_IN_NUMBER.sub("\N{NO-BREAK SPACE}", line.title))
        for line in lines
    )
    if len(lines) <= _NORMAL:
        return lines
    kept = tuple(line for line in lines if line.state != "rest")
    return kept if len(kept) <= _MOST_ON_PAPER else _latest(kept, _MOST_ON_PAPER, say)


def when_on(lines: tuple[DayLine, ...], say: Say) -> str:
    """When to put them on, and off. Where an hour at night was chosen, later is night too."""
    if any(line.starts and is_night(line.starts.hour) for line in lines):
        return say(
            "Put your boots on at the time shown, or later. Take them off when the time is up,"
            " even if they feel fine. Then let them rest."
        )
    return say(
        "Put your boots on at the time shown, or later, but not into the night. Take them off when"
        " the time is up, even if they feel fine. Then let them rest."
    )


def cautions(say: Say) -> tuple[str, ...]:
    """What stands beside the stop signs on every form of the calendar.

    General care, deferring to the customer's doctor.
    """
    return (
        say(
            "New swelling, warmth, redness or pain in one leg can be a clot: get medical advice"
            " today. Short of breath, or pain in the chest: call emergency services."
        ),
        say(
            "With diabetes or numb feet, look at your skin every time you take them off. With"
            " compression stockings or lymphedema, ask your doctor first."
        ),
        say(
            "Zip with your leg relaxed, never by force. Do not drive, ride or sleep in your boots"
            " yet."
        ),
        say("This is the shop's general advice, not medical advice."),
    )


def missed_together(lines: tuple[DayLine, ...]) -> tuple[DayLine, ...]:
    """The lines with days missed in a row as one, for what cannot be told from there."""
    together: list[DayLine] = []
    for line in lines:
        before = together[-1] if together else None
        if before and before.state == line.state == "missed" and before.title == line.title:
            together[-1] = replace(
                before,
                weekday=f"{before.weekday.partition('–')[0]}–{line.weekday}",
                date_words=f"{before.date_words.partition(' – ')[0]} – {line.date_words}",
                is_range=True,
            )
        else:
            together.append(line)
    return tuple(together)


def _wears_and_rests(sheet: CalendarSheet, wears: list[WearLine], say: Say) -> Iterator[DayLine]:
    """The lines up to ordinary wear."""
    before: date | None = None
    for wear in wears:
        day = wear.start_local.date()
        if before is not None:
            yield from _rest(sheet, before + _ONE_DAY, day - _ONE_DAY, say)
        yield _wear_line(sheet, wear, say)
        before = max(day, before or day)
    if before is not None and not sheet.withdrawn:
        yield from _rest(sheet, before + _ONE_DAY, sheet.ordinary_from - _ONE_DAY, say)


def _wear_line(sheet: CalendarSheet, wear: WearLine, say: Say) -> DayLine:
    """The line of one wear, as planned or as it was."""
    begin, end = (
        on_the_clock(moment.time(), sheet.language, sheet.hours)
        for moment in (wear.start_local, wear.end_local)
    )
    planned = say("{begin} to {end}", begin=begin, end=end)
    if _clocks_change(wear):
        planned = say("{begin} to {end}, the clocks change", begin=begin, end=end)
    length = format_unit(wear.minutes, "duration-minute", "long", locale=sheet.language)
    weekday_after = _weekday_after(sheet, wear)
    details = {
        "planned": planned,
        "worn": say("You wore them {length}, from {begin}", length=length, begin=begin),
        "missed": say("Not worn. That’s fine: moved to {day}", day=weekday_after)
        if wear.n
        else say("Not worn, before you started again"),
        "moved": say("Moved to {day}", day=weekday_after),
        "off": say("On hold") if sheet.hold else say("Canceled"),
    }
    weekday, words = _margin(wear.start_local.date(), sheet.language)
    strip = (
        strip_of(wear.start_local.time(), wear.minutes, wear.state)
        if wear.state in ("planned", "worn")
        else strip_of()
    )
    day, starts = wear.start_local.date(), wear.start_local if wear.state == "planned" else None
    return DayLine(
        weekday,
        words,
        wear.words,
        details[wear.state],
        wear.state,
        strip,
        day,
        starts,
        wear.minutes,
        wear.n,
        put_on=f"{wear.start_local:%H:%M}",
    )


def _weekday_after(sheet: CalendarSheet, wear: WearLine) -> str:
    """The weekday to which a missed or moved wear went: that of the next try of the same step, of
    days missed in a row the one after all of them; with its date from a week on.
    """
    later = [
        line.start_local
        for line in sheet.wears
        if line.n == wear.n
        and line.start_local.date() > wear.start_local.date()
        and not line.state == wear.state == "missed"
    ]
    day = min(later, default=wear.start_local + _ONE_DAY)
    weekday = format_date(day, "EEEE", locale=sheet.language)
    if (day.date() - wear.start_local.date()).days < _DAYS_A_WEEK:
        return weekday
    return f"{weekday}, {in_words(day.date(), sheet.language)}"


def _clocks_change(wear: WearLine) -> bool:
    """Whether the clock jumps during this wear, so that what it shows at the end is not the minutes
    after what it showed before.
    """
    return wear.end_local - wear.start_local != timedelta(minutes=wear.minutes)


def _rest(sheet: CalendarSheet, first: date, last: date, say: Say) -> Iterator[DayLine]:
    """One line for the days without boots from first to last, none where there is none."""
    if first > last:
        return
    weekday, words = _margin(first, sheet.language)
    if last > first:
        last_weekday, last_words = _margin(last, sheet.language)
        weekday, words = f"{weekday}–{last_weekday}", f"{words} – {last_words}"
    yield DayLine(
        weekday,
        words,
        say("Rest"),
        say("No boots today"),
        "rest",
        strip_of(),
        first,
        is_range=last > first,
    )


def _all_day(
    sheet: CalendarSheet, day: date, key: str, state: str, strip: Markup | None
) -> DayLine:
    """The line of a day that has its own sentence."""
    weekday, words = _margin(day, sheet.language)
    return DayLine(weekday, words, sheet.texts[key], sheet.texts[f"{key}_more"], state, strip, day)


def _margin(day: date, language: str) -> tuple[str, str]:
    """Weekday and date for the margin: Sat, Apr 25."""
    return format_date(day, "EEE", locale=language), in_words(day, language)


def _shortened(lines: list[DayLine], say: Say) -> tuple[DayLine, ...]:
    """All lines where they fit; otherwise without the rests; otherwise without the oldest, which
    are then said to be left out.
    """
    if len(lines) <= _MOST_LINES:
        return tuple(lines)
    kept = [line for line in lines if line.state != "rest"]
    if len(kept) <= _MOST_LINES:
        return tuple(kept)
    return _latest(tuple(kept), _MOST_LINES, say)


def _latest(lines: tuple[DayLine, ...], most: int, say: Say) -> tuple[DayLine, ...]:
    """The last lines, after one that says that earlier ones are left out."""
    left_out = _only_words(lines[0], say("Earlier days are not shown here."))
    return (left_out, *lines[-(most - 1) :])


def _only_words(line: DayLine, words: str) -> DayLine:
    """A line without a day."""
    bare = replace(line, weekday="", date_words="", title=words, detail="", state="rest")
    return replace(bare, strip=None, day=None, starts=None)
