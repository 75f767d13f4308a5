"""The same days on paper, in the saved page and in the phone, whatever the plan; and no harm by
any name.
"""

from __future__ import annotations

import random
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from html import unescape
from html.parser import HTMLParser

import pytest
from icalendar import Calendar
from papers.paper_calendar import PICKED_UP, TEXTS, a_plan, sheet_of

from fitcounter.errors import OutOfOrder
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import call_off, make_plan, not_today, record_wear
from fitcounter.papers.calendar_ics import calendar_ics
from fitcounter.papers.calendar_pdf import calendar_pdf
from fitcounter.papers.calendar_records import CalendarSheet
from fitcounter.papers.html import in_words, on_the_clock
from fitcounter.papers.saved_page import calendar_page


def a_random_plan(rest: random.Random):
    """Any rules, zone and hour; then some wears worn, missed, put off, perhaps all called off."""
    rules = WearRules(
        tuple(rest.choice((20, 30, 45, 60, 120, 480)) for _ in range(rest.randint(1, 12))),
        rest.choice((12, 24, 24, 36, 48, 120)),
        rest.choice(("start", "end")),
        rest.random() < 0.4,
    )
    picked_up = datetime(
        rest.randint(2024, 2031),
        rest.randint(1, 12),
        rest.randint(1, 28),
        rest.randint(0, 23),
        tzinfo=UTC,
    )
    zone = rest.choice(("America/New_York", "Europe/Madrid", "Australia/Lord_Howe", "Asia/Kolkata"))
    plan = make_plan(picked_up, clock(zone, rest.randint(6, 22), rest.choice((0, 15, 30))), rules)
    now = picked_up
    for _ in range(rest.randint(0, 4)):
        now += timedelta(hours=rest.randint(6, 40))
        plan = move_missed(plan, now)
        coming = [wear for wear in plan.wears if wear.state == "planned"]
        if not coming:
            break
        try:
            if rest.random() < 0.6:
                plan = record_wear(
                    plan, coming[0].n, now - timedelta(hours=1), rest.choice((20, 30, 55)), now
                )
            else:
                plan = not_today(plan, coming[0].n, now)
        except OutOfOrder:
            continue
    return call_off(plan, now) if rest.random() < 0.05 else plan


class Rows(HTMLParser):
    """The rows of the saved page: the attributes of each."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.rows: list[dict[str, str | None]] = []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        if tag == "li" and (given.get("class") or "").startswith("row "):
            self.rows.append(given)


def planned_in_page(html: str) -> set[tuple[str, int]]:
    """(start, minutes) of each wear still to come, as the saved page says."""
    return {
        (row["data-starts"], int(row["data-minutes"]))
        for row in Rows(html).rows
        if "data-starts" in row
    }


def planned_in_phone(content: bytes) -> set[tuple[str, int]]:
    """(start, minutes) of each wear still to come, as the phone's calendar says: minutes from the
    second alarm.
    """
    found = set()
    for event in Calendar.from_ical(content).walk("VEVENT"):
        alarms = [alarm.decoded("trigger") for alarm in event.walk("VALARM")]
        if alarms:
            minutes = int(max(alarms).total_seconds() // 60)
            begins = event.decoded("dtstart").replace(tzinfo=None)  # on the clock of the plan
            found.add((begins.isoformat(timespec="minutes"), minutes))
    return found


def assert_paper_says(text: str, sheet: CalendarSheet) -> None:
    """The text of the PDF has the days of the sheet in order, each before its wear, and the days
    that follow.
    """
    at = 0
    for wear in sorted(sheet.wears, key=lambda wear: wear.start_local):
        begin, end = (
            on_the_clock(wear.start_local.time(), "en"),
            on_the_clock(wear.end_local.time(), "en"),
        )
        at = text.index(in_words(wear.start_local.date(), "en"), at)
        if wear.state == "planned":
            at = text.index(f"{wear.words} {begin} to {end}", at)
    if not sheet.withdrawn:
        at = text.index(in_words(sheet.ordinary_from, "en"), at)
        assert text.index(in_words(sheet.first_whole_day, "en"), at) < text.index(
            TEXTS["whole_day"]
        )
    assert in_words(sheet.guarantee_end, "en", "year") in text


@pytest.mark.parametrize("papers", [pytest.param(10), pytest.param(200, marks=pytest.mark.slow)])
def test_page_paper_and_phone_say_the_same(reader, papers):
    """For random plans (200 in the slow form) the wears to come are the same in sheet, saved page,
    phone and on paper, A4 and Letter.
    """
    rest = random.Random(20260424)
    for number in range(papers):
        sheet = sheet_of(a_random_plan(rest))
        html = calendar_page(sheet).decode()
        wanted = {
            (w.start_local.isoformat(timespec="minutes"), w.minutes)
            for w in sheet.wears
            if w.state == "planned"
        }
        assert planned_in_page(html) == wanted
        assert planned_in_phone(calendar_ics(sheet)) == wanted
        assert_paper_says(
            unescape(
                " ".join(re.sub(r"<style.*?</style>|<[^>]+>", " ", html, flags=re.DOTALL).split())
            ),
            sheet,
        )
        paper = "letter" if number % 2 else "a4"
        pdf = calendar_pdf(replace(sheet, link=f"https://boots.example/c/{'k' * 22}"), paper=paper)
        assert len(reader.pages(pdf)) <= 2
        height_mm = reader.size_mm(pdf)[1]
        assert round(height_mm / 25.4 * 72) == (792 if number % 2 else 842)
        assert_paper_says(reader.text(pdf), sheet)


def test_a_plan_called_off_promises_no_day(reader):
    """Withdrawn, neither ordinary wear nor a first whole day stands on paper or page."""
    sheet = sheet_of(call_off(a_plan(), PICKED_UP + timedelta(hours=1)))
    assert sheet.withdrawn
    for text in (reader.text(calendar_pdf(sheet)), calendar_page(sheet).decode()):
        assert "Canceled" in text
        assert TEXTS["whole_day"] not in text
        assert TEXTS["ordinary"] not in text


def test_a_hostile_name_does_no_harm_to_page_or_paper(reader, hostile):
    """As her name and in all the shop says of itself: one page of paper, and in the file no tag or
    script that is not ours.
    """
    texts = TEXTS | {"call": f"Questions? Call {hostile}, {hostile}.", "take_off": hostile}
    sheet = sheet_of(
        a_plan(preset("growing")),
        first_name=hostile,
        shop_name=hostile,
        shop_phone=hostile,
        texts=texts,
    )
    pdf = calendar_pdf(sheet)
    assert len(reader.pages(pdf)) == 1
    assert "Boots on for 480 minutes (6 of 6)" in reader.text(pdf)
    html = calendar_page(sheet).decode()
    assert "49" not in re.sub(
        r"<(style|script)>.*?</\1>|data-[a-z]+=\"[^\"]*\"|<svg.*?</svg>|sha256-\S+",
        "",
        html,
        flags=re.DOTALL,
    )
    assert html.count("<script") == 1
    assert html.count("<style") == 1
    assert "<img" not in html
    assert "<link" not in html
