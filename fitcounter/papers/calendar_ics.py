"""The wearing-in calendar for a phone's own calendar: RFC 5545, METHOD:PUBLISH, in the zone of the
plan; as a copy, and as a feed that the phone asks again (RFC 7986).

One event for each step, under a UID that stays the same when the step moves, so that a newer state
(higher SEQUENCE) replaces it and a withdrawn step (STATUS:CANCELLED) goes. The alarm that says
"take them off" counts real minutes from the start (a duration is exact, RFC 5545 §3.3.6), because
on a night in which the clocks change the end on the clock says something else.
"""

from __future__ import annotations

import unicodedata
from datetime import UTC, date, timedelta
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event, vCalAddress, vDatetime, vDuration, vText

from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.papers.zone_block import zone_block

PRODUCT = "-//fitcounter//wearing-in calendar//EN"
ONE_DAY = timedelta(days=1)
CLOCK_CHANGES_DAYS = 400  # how far ahead a file tells them: longer than any plan
ASK_AGAIN = timedelta(hours=1)
LOOKS_LIKE_A_LINE = ("Cc", "Cs", "Zl", "Zp")
TURNS_TEXT_ROUND = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


def calendar_ics(sheet: CalendarSheet) -> bytes:
    """The calendar file: UTF-8, CRLF, lines of at most 75 octets. The same sheet gives the same
    bytes.

    An event for each step of the plan, for the day ordinary wear begins, for the first whole day
    and for the last day of the guarantee. Missed, moved and extra lines of the sheet are history
    and no events. Raises KeyError for a sentence that is missing.
    """
    calendar = _calendar(sheet)
    if sheet.zone != "UTC" and sheet.wears:
        first = min(wear.start_local for wear in sheet.wears).replace(tzinfo=ZoneInfo(sheet.zone))
        calendar.add_component(zone_block(sheet.zone, first - ONE_DAY, CLOCK_CHANGES_DAYS))
    for wear in sheet.wears:
        if wear.n and wear.state not in ("missed", "moved"):
            calendar.add_component(_wear_event(sheet, wear))
    calendar.add_component(
        _day_event(sheet, "ordinary", sheet.ordinary_from, is_off=sheet.withdrawn)
    )
    calendar.add_component(
        _day_event(sheet, "whole_day", sheet.first_whole_day, is_off=sheet.withdrawn)
    )
    if sheet.guarantee_end is not None:
        calendar.add_component(_day_event(sheet, "guarantee", sheet.guarantee_end, is_off=False))
    return bytes(calendar.to_ical())


def _calendar(sheet: CalendarSheet) -> Calendar:
    """The calendar without its events: its name, and for a feed how often to ask again."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for name in ("name", "x-wr-calname"):
        calendar.add(name, _text(sheet.texts["calendar"], sheet))
    if sheet.follows:
        calendar.add("refresh-interval", ASK_AGAIN, parameters={"VALUE": "DURATION"})
        calendar.add("x-published-ttl", vDuration(ASK_AGAIN))
    return calendar


def _wear_event(sheet: CalendarSheet, wear: WearLine) -> Event:
    """The event of one step, with its two alarms while it is still to come."""
    event = _event(sheet, f"wear-{wear.n}", wear.words, ("why", "stop"), is_off=wear.state == "off")
    length = timedelta(minutes=wear.minutes)
    zone = ZoneInfo(sheet.zone)
    event.add("dtstart", wear.start_local.replace(tzinfo=zone))
    if wear.end_local > wear.start_local:
        event.add("dtend", wear.end_local.replace(tzinfo=zone))
    else:  # over an hour that comes twice, the end on the clock lies before the start
        event.add("duration", length)
    if wear.state == "planned":
        event.add_component(_alarm(sheet, "put_on", timedelta()))
        event.add_component(_alarm(sheet, "take_off", length))
    return event


def _day_event(sheet: CalendarSheet, kind: str, day: date, *, is_off: bool) -> Event:
    """An event of a whole day, without alarm."""
    event = _event(sheet, kind, sheet.texts[kind], (f"{kind}_more",), is_off=is_off)
    event.add("dtstart", day)
    event.add("dtend", day + ONE_DAY)
    return event


def _event(
    sheet: CalendarSheet, name: str, title: str, explained: tuple[str, ...], *, is_off: bool
) -> Event:
    """What every event has: who it is, which version, its words, and that it keeps nobody busy."""
    event = Event()
    event.add("uid", vText(_plain(f"{sheet.uid_seed}-{name}")))
    event.add("sequence", sheet.sequence)
    stamp = vDatetime(sheet.stamped_at.astimezone(UTC))
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    event.add("summary", _text(title, sheet))
    more = [*explained, "call", *(["page"] if sheet.link else [])]
    lines = [sheet.texts[key] for key in (*more, *([] if sheet.follows else ["copy"]))]
    event.add(
        "description",
        vText("\n".join(map(_plain, lines)), params={"LANGUAGE": sheet.language.replace("_", "-")}),
    )
    event.add("status", "CANCELLED" if is_off else "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    if sheet.organizer:
        shop = vCalAddress(_plain(sheet.organizer))
        shop.params["CN"] = _plain(sheet.shop_name).replace('"', "\u201d")
        event.add("organizer", shop)
    return event


def _alarm(sheet: CalendarSheet, key: str, after_start: timedelta) -> Alarm:
    """A message that long after the start."""
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", after_start)
    alarm.add("description", _text(sheet.texts[key], sheet))
    return alarm


def _text(words: str, sheet: CalendarSheet) -> vText:
    """A value of one line that says which language it is in."""
    return vText(_plain(words), params={"LANGUAGE": sheet.language.replace("_", "-")})


def _plain(words: str) -> str:
    """The words on one line: whatever a reader could take for the end of a line, or that turns the
    text round, becomes a space.

    The library escapes commas, semicolons, backslashes and line feeds; a lone carriage return it
    does not.
    """
    return "".join(
        (
            " "
            if unicodedata.category(character) in LOOKS_LIKE_A_LINE or character in TURNS_TEXT_ROUND
            else character
        )
        for character in words
    )
