"""What stands on the calendar on paper: every wear, every caution, the guarantee, when it was
printed, and what was worn or moved.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from papers.paper_calendar import PICKED_UP, TEXTS, a_plan, sheet_of

from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import make_plan, not_today, record_wear
from fitcounter.papers.calendar_days import day_lines, density
from fitcounter.papers.calendar_pdf import calendar_pdf
from fitcounter.papers.html import in_english


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(
    "rules",
    [
        preset("three-short-wears"),
        preset("growing"),
        WearRules((30,) * 7, 240),
        WearRules((30,) * 20, 48, "start", True),
    ],
    ids=["three", "growing", "long rests", "twenty"],
)
def test_one_page_with_all_that_must_be_on_it(reader, rules, paper):
    """Short or long, A4 or Letter: one page, or two where the wears are twenty; tagged, with every
    wear, every caution, the guarantee and whom to call; days and when to stop on the first.
    """
    sheet = sheet_of(a_plan(rules))
    pdf = calendar_pdf(sheet, paper=paper)
    text = reader.text(pdf)
    first, *more = reader.pages(pdf)
    assert len(more) <= (len(sheet.wears) == 20)
    assert TEXTS["stop"] in first
    assert sheet.wears[-1].words in first
    assert reader.size_mm(pdf) == pytest.approx(
        (210, 297) if paper == "a4" else (215.9, 279.4), abs=0.05
    )
    assert reader.is_accessible(pdf, "Wearing in your boots")
    said = (TEXTS[key] for key in ("why", "stop", "whole_day", "call", "guarantee_more"))
    care = (
        "can be a clot",
        "call emergency services",
        "ask your doctor first",
        "not medical advice",
    )
    for words in (
        *(wear.words for wear in sheet.wears),
        *said,
        *care,
        "9/16 in.",
        "April 25, 2027",
    ):
        assert words in text
    assert len(re.findall("on at _+ off at _+|_+ – _+", text)) == len(sheet.wears)


def test_it_says_when_it_was_printed_and_where_the_days_stand_now(reader):
    """In the zone of the plan; the codes lead to the page and into the phone's calendar, and the
    address can be typed.
    """
    link = "https://boots.example/c/9fKx2mQv7TtYwB3nRz0aLc"
    late = datetime(2026, 4, 26, 1, 30, tzinfo=UTC)  # still the 25th in New York
    sheet = sheet_of(
        a_plan(),
        stamped_at=late,
        link=link,
        typed="boots.example/b/7K3M-9QXW-E",
        into_phone=f"{link}/calendar.ics",
    )
    pdf = calendar_pdf(sheet)
    text = reader.text(pdf)
    assert "Printed Sat, Apr 25. The days may have moved since." in text
    assert "boots.example/b/ 7K3M-9QXW-E" in text or "boots.example/b/7K3M-9QXW-E" in text
    assert sorted(reader.said_of_pictures(pdf)) == [
        "Code to scan for your own page",
        "Code to scan for your phone's calendar",
        "Second code to scan for your own page",
    ]
    bare = reader.text(calendar_pdf(sheet_of(a_plan())))
    assert "Scan to see" not in bare


def test_a_very_long_history_still_fits_a_page(reader):
    """After sixty days put off, the page has the latest lines and says that earlier ones are left
    out.
    """
    plan, now = a_plan(), PICKED_UP
    for _ in range(60):
        plan = not_today(plan, 1, now)
        now += timedelta(days=1)
        plan = move_missed(plan, now)
    pdf = calendar_pdf(sheet_of(plan), paper="letter")
    text = reader.text(pdf)
    assert len(reader.pages(pdf)) <= 2
    assert "Earlier days are not shown here." in text
    assert "Boots on for 30 minutes (3 of 3)" in text
    assert TEXTS["whole_day"] in text


def test_what_was_worn_and_what_was_moved_reads_without_colour(reader):
    """A wear as it was, a day it was put off, the rest between: each stands there as words."""
    plan = not_today(a_plan(), 1, PICKED_UP + timedelta(hours=1))
    plan = record_wear(
        plan, 1, PICKED_UP + timedelta(days=1, hours=7), 25, PICKED_UP + timedelta(days=1, hours=9)
    )
    text = reader.text(calendar_pdf(sheet_of(plan)))
    assert "Moved to Saturday" in text
    assert "You wore them 25 minutes, from 6:00 PM" in text


@pytest.mark.parametrize(
    ("zone", "fetched", "hour", "said"),
    [
        (
            "America/New_York",
            datetime(2026, 10, 30, 19, tzinfo=UTC),
            0,
            "12:00 AM to 1:00 AM, the clocks change",
        ),
        (
            "America/New_York",
            datetime(2027, 3, 12, 20, tzinfo=UTC),
            1,
            "1:00 AM to 4:00 AM, the clocks change",
        ),
    ],
)
def test_a_night_in_which_the_clocks_change_is_named(reader, zone, fetched, hour, said):
    """Two hours that read as one or three on the clock are said to: on that night alone, on paper,
    in the file and when many lines stand.
    """
    for minutes in ((120,) * 3, (120,) * 16):
        sheet = sheet_of(make_plan(fetched, clock(zone, hour, 0), WearRules(minutes)))
        details = [line.detail for line in day_lines(sheet, in_english)]
        assert [one for one in details if "clocks" in one] == [said]
        pdf = calendar_pdf(sheet, in_english)
        assert said in reader.text(pdf)
        assert len(reader.pages(pdf)) <= 2


def test_whole_rests_are_one_line():
    """Days without boots in a row are one line from first to last; one alone is one line with its
    day.
    """
    lines = day_lines(sheet_of(a_plan(WearRules((30, 30), 96, "start"))), in_english)
    rests = [line for line in lines if line.state == "rest"]
    assert [(line.weekday, line.date_words) for line in rests] == [
        ("Sat–Mon", "Apr 25 – Apr 27"),
        ("Wed–Fri", "Apr 29 – May 1"),
    ]
    assert density(lines) == "normal"
