"""The calendar on paper and in one file: one page whatever the plan, complete without script, the
same dates in each form.
"""

from __future__ import annotations

import random
import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from html import unescape
from html.parser import HTMLParser
from itertools import groupby, pairwise
from zoneinfo import ZoneInfo

import numpy as np
import pypdfium2
import pytest
from browser.pages import barriers
from icalendar import Calendar

from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.calendar import TEXTS as SENTENCES
from fitcounter.errors import OutOfOrder
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import call_off, make_plan, not_today, record_wear
from fitcounter.papers.calendar_days import day_lines, density
from fitcounter.papers.calendar_ics import calendar_ics
from fitcounter.papers.calendar_pdf import calendar_pdf
from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.papers.html import in_english, in_words, on_the_clock
from fitcounter.papers.saved_page import calendar_page

PICKED_UP = datetime(2026, 4, 24, 15, tzinfo=UTC)
TEXTS = {
    "calendar": "Wearing in your boots",
    "put_on": "Put your boots on now",
    "take_off": "Take your boots off now",
    "why": "The leather takes the shape of your leg in the first minutes.",
    "stop": "Take them off at once if your foot tingles or goes numb.",
    "ordinary": "Out to lunch in your boots",
    "ordinary_more": "See how they feel.",
    "whole_day": "Your first whole day in them",
    "whole_day_more": "Take a second pair along.",
    "guarantee": "Last day of your guarantee",
    "guarantee_more": "If a boot has gone back, we hold it once more.",
    "copy": "This copy does not change by itself.",
    "call": "Questions? Call Quillmarsh Leather Bench, 555 0142.",
}


def sheet_of(plan, **changes) -> CalendarSheet:
    """The sheet of a plan, as the desk makes it."""
    zone = ZoneInfo(plan.zone)
    wears = []
    for wear in plan.wears:
        begin, end = (
            moment.astimezone(zone).replace(tzinfo=None) for moment in (wear.began, wear.ended)
        )
        steps = len(plan.rules.minutes)
        words = (
            f"Boots on for {wear.minutes} minutes ({wear.n} of {steps})"
            if wear.n
            else "Extra time in your boots"
        )
        wears.append(
            WearLine(wear.n, begin, end, wear.actual_minutes or wear.minutes, wear.state, words)
        )
    sheet = CalendarSheet(
        "Quillmarsh Leather Bench",
        "555 0142",
        "Marisol",
        "en",
        plan.zone,
        "6f1c2a",
        0,
        PICKED_UP,
        tuple(wears),
        plan.ordinary_from,
        plan.first_whole_day,
        date(2027, 4, 25),
        TEXTS,
        ("Your left boot gave 9/16 in.",),
    )
    return replace(sheet, **changes)


def a_plan(rules=None, zone="America/New_York", picked_up=PICKED_UP):
    """A plan at six in the evening."""
    return make_plan(picked_up, clock(zone, 18, 0), rules or preset("three-short-wears"))


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
        first, *more = reader.read(pdf).pages
        assert len(more) <= 1
        assert round(float(first.mediabox.height)) == (792 if number % 2 else 842)
        assert_paper_says(reader.text(pdf), sheet)


def test_long_rests_stay_in_their_column(reader):
    """From the 28th of one month to the 2nd of the next, in the longest words: the dates do not
    run into what is to be done.
    """
    plan = a_plan(WearRules((30,) * 3, rest_h=120), picked_up=datetime(2026, 9, 9, 15, tzinfo=UTC))
    ink = np.asarray(
        reader.picture(calendar_pdf(sheet_of(plan, language="es")), dpi=127)
    )  # 5 dots a millimetre
    beside = ink[47 * 5 : 120 * 5, 37 * 5 : 38 * 5].min(axis=1) < 128
    letters = [
        run for dark, group in groupby(beside) if dark and len(run := list(group)) > 2
    ]  # taller than the lines between the rows
    assert letters == []


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
    pages = reader.read(pdf).pages
    assert len(pages) <= 1 + (len(sheet.wears) == 20)
    first = " ".join(pages[0].extract_text().split())
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


def in_spanish(sheet):
    """The same with the catalogue's words, an hour of twelve, codes to scan and one to type."""
    words = speech("es")
    texts = {
        key: words.say(text, shop="Quillmarsh Leather Bench", phone="(555) 010-0199")
        for key, text in SENTENCES.items()
    }
    return replace(
        sheet,
        language="es",
        hours="12",
        texts=texts,
        link=f"https://boots.example/c/{'k' * 22}",
        into_phone=f"webcal://boots.example/c/{'k' * 22}/feed.ics",
        typed="boots.example/b/7K3M-9QXW-E",
    )


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_longer_languages_fit_the_page_too(reader, paper):
    """Spanish takes more room than English, and so do the codes to scan and the address to type:
    twenty wears stand on two pages.
    """
    sheet = in_spanish(sheet_of(a_plan(WearRules((30,) * 20, 48, "start", True))))
    first, *more = reader.read(calendar_pdf(sheet, speech("es").say, paper)).pages
    assert len(more) == 1
    assert sheet.texts["stop"] in " ".join(first.extract_text().split())


def one_boot_alone(sheet):
    """In Spanish, as long as its words get: for one boot, with the line of each and what each
    gave.
    """
    words = speech("es")
    for_left = "Left boot on for {length} ({n} of {steps})"
    wears = tuple(
        replace(
            wear,
            words=words.say(for_left, length=words.minutes(wear.minutes), n=wear.n, steps=6),
        )
        for wear in sheet.wears
    )
    of_each = tuple(
        words.say(line)
        for line in (
            "Your left boot: wear it as the calendar says.",
            "Your right boot: at the shop.",
        )
    )
    gave = tuple(
        words.say(line, size="9/16 de pulgada")
        for line in ("Your left boot gave {size}.", "Your right boot gave {size}.")
    )
    return replace(in_spanish(sheet), wears=wears, answer=of_each, what_boots_did=gave)


@pytest.mark.parametrize(
    ("rules", "paper", "large"),
    [
        ("three-short-wears", "a4", False),
        ("three-short-wears", "letter", True),
        ("growing", "letter", False),
        ("growing", "letter", True),
    ],
)
def test_when_to_stop_is_on_the_first_sheet_of_one_boot_alone(reader, rules, large, paper):
    """One sheet, two in large letters; no line of print ends between a number and what it counts,
    nor within "1 of 3".
    """
    sheet = one_boot_alone(sheet_of(a_plan(preset(rules))))
    pdf = calendar_pdf(sheet, speech("es").say, paper, large=large)
    first, *more = [page.extract_text() for page in reader.read(pdf).pages]
    assert len(more) == large
    assert sheet.texts["stop"] in " ".join(first.split())
    assert all(wear.words in reader.text(pdf) for wear in sheet.wears)
    lines = "\n".join([first, *more]).replace("\N{NO-BREAK SPACE}", " ").splitlines()
    for wear in sheet.wears:
        step, length = wear.words.removeprefix("Bota izquierda, ").split(": ")
        assert any(f"{step}:" in line for line in lines)
        assert any(line.endswith(length) for line in lines)


def test_large_letters_break_no_line_within_a_number_of_how_many(reader):
    first, *_ = reader.read(calendar_pdf(sheet_of(a_plan()), large=True)).pages
    lines = first.extract_text().replace("\N{NO-BREAK SPACE}", " ").splitlines()
    assert [line for line in lines if "30 minutes (" in line] == [
        f"30 minutes ({n} of 3)" for n in (1, 2, 3)
    ]


@pytest.mark.parametrize("worn", [0, 1, 2])
def test_what_was_worn_leaves_the_columns_as_they_are_and_all_on_one_page(reader, worn):
    """A worn line reaches over three columns; as the first one it made them all narrow, the titles
    broke, and the guarantee slipped to a second page.
    """
    plan = a_plan()
    for n in range(1, worn + 1):
        due = plan.to_come[0]
        plan = record_wear(plan, n, due.start, due.minutes, due.end)
    gave = (
        "Tu bota izquierda ha cedido 9/16 de pulgada.",
        "Tu bota derecha ha cedido 9/16 de pulgada.",
    )
    sheet = in_spanish(sheet_of(plan, what_boots_did=gave))
    pdf = calendar_pdf(sheet, speech("es").say, "letter")
    assert len(reader.read(pdf).pages) == 1
    assert all(wear.words in reader.text(pdf) for wear in sheet.wears)


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize(("rules", "box_mm"), [("three-short-wears", 12.0), ("growing", 8.5)])
def test_what_is_written_in_ends_before_the_box_to_tick(reader, rules, box_mm, large):
    """In Spanish, whose words for it are longer. The code to type stands on one line."""
    typed = "leather-of-boots.example/b/7K3M-9QXW-E"
    sheet = in_spanish(sheet_of(a_plan(preset(rules)), link="https://b.example/c/k", typed=typed))
    pdf = calendar_pdf(sheet, speech("es").say, large=large)
    page = pypdfium2.PdfDocument(pdf)[0]
    text = page.get_textpage()
    ends = [
        text.get_charbox(n)[2]
        for n in range(text.count_chars())
        if text.get_text_range(n, 1) == "_"
    ]
    margin_mm = 12
    assert max(ends) < page.get_width() - (margin_mm + box_mm) * 72 / 25.4
    assert "/b/7K3M-9QXW-E" in reader.text(pdf)


@pytest.mark.parametrize("large", [False, True])
def test_a_screen_reader_finds_its_way(reader, large):
    """By the rules of ISO 14289-1 that a tag tree can show: 7.1 title and language are told; 7.3
    each figure says what it is; 7.4.2 headings begin with the first level and skip none; 7.5 each
    cell names the header of its row.
    """
    sheet = sheet_of(
        a_plan(preset("growing")), link="https://boots.example/c/9fKx2mQv7TtYwB3nRz0aL"
    )
    sheet = replace(sheet, into_phone=f"{sheet.link}/calendar.ics")
    pdf = calendar_pdf(sheet, large=large)
    assert reader.is_accessible(pdf, "Wearing in your boots")
    outline = reader.outline(pdf)
    assert outline.count("Figure") == len(reader.said_of_pictures(pdf)) == 2
    levels = [int(name[1]) for name in outline if re.fullmatch("H[1-6]", name)]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert set(reader.headed_by(pdf)) == {1}


@pytest.mark.parametrize(("large", "least"), [(False, 12), (True, 18)])
@pytest.mark.parametrize("wears", [3, 8, 20])
def test_no_letter_is_small(reader, wears, large, least):
    """Read from a metre away: 12 points and more, 18 in the large form, in either density."""
    sheet = sheet_of(
        a_plan(WearRules((30,) * wears)),
        link="https://boots.example/c/9fKx2mQv7TtYwB3nRz0aLc",
        into_phone="webcal://boots.example/c/9fKx2mQv7TtYwB3nRz0aLc/feed.ics",
        typed="boots.example/b/7K3M-9QXW-E",
        answer=("Leave your left boot off.",),
    )
    sizes = reader.letter_sizes(calendar_pdf(sheet, large=large))
    assert min(sizes) >= least - 0.01
    assert max(sizes) >= least + 10


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
    assert len(reader.read(pdf).pages) <= 2
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


def test_a_plan_called_off_promises_no_day(reader):
    """Withdrawn, neither ordinary wear nor a first whole day stands on paper or page."""
    sheet = sheet_of(call_off(a_plan(), PICKED_UP + timedelta(hours=1)))
    assert sheet.withdrawn
    for text in (reader.text(calendar_pdf(sheet)), calendar_page(sheet).decode()):
        assert "Canceled" in text
        assert TEXTS["whole_day"] not in text
        assert TEXTS["ordinary"] not in text


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
        assert len(reader.read(pdf).pages) <= 2


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
    assert len(reader.read(pdf).pages) == 1
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


def test_the_saved_file_asks_for_nothing():
    """No address of any kind is in the file but the shop's phone, and the policy in it forbids the
    rest.
    """
    html = calendar_page(sheet_of(a_plan())).decode()
    assert re.findall(r"(?:href|src|action|url)\s*[=(]\s*[\"']?([^\"' )>]*)", html) == [
        "tel:5550142"
    ]
    assert "default-src 'none'" in html
    assert "http:" not in html
    assert "https:" not in html
    assert len(html) < 30_000


def test_the_saved_file_speaks_spanish():
    """Every sentence of ours goes through the catalogue; days and hours are written as Spanish
    writes them.
    """
    sheet = sheet_of(a_plan(), language="es")
    html = calendar_page(
        sheet, lambda sentence, /, **values: "¿" + sentence.format(**values)
    ).decode()
    assert '<html lang="es">' in html
    assert "24 abr" in html
    assert "18:00" in html
    assert "¿Why so short" in html


def opened(chromium, tmp_path, sheet, at, **options):
    """The saved file opened from the disk of a phone without network, at a given local time."""
    file = tmp_path / "calendar.html"
    file.write_bytes(calendar_page(sheet))
    context = chromium.new_context(
        viewport={"width": 320, "height": 700},
        offline=True,
        timezone_id="America/New_York",
        **options,
    )
    tab = context.new_page()
    tab.problems = []
    tab.on("pageerror", lambda error: tab.problems.append(str(error)))
    tab.on("console", lambda message: tab.problems.append(message.text))
    tab.clock.install(time=at)
    tab.goto(file.as_uri())
    return tab


@pytest.mark.browser
def test_the_saved_file_counts_today_even_if_the_phone_slept(chromium, tmp_path):
    """Started at 18:05, it says when they come off; woken after 31 minutes it says to take them
    off; opened again it still knows.
    """
    tab = opened(chromium, tmp_path, sheet_of(a_plan()), datetime(2026, 4, 25, 22, 5, tzinfo=UTC))
    assert (
        tab.locator("[aria-current=date] .title").inner_text() == "Boots on for 30 minutes (2 of 3)"
    )
    assert tab.locator("[data-count]").inner_text() == "30:00"
    tab.click("button")
    tab.clock.run_for(65_000)
    assert tab.locator("[data-count]").inner_text() == "28:55"
    assert tab.locator("[role=status]").inner_text() == "They come off at 6:35 PM."
    assert not tab.locator("button").is_visible()
    tab.clock.fast_forward(30 * 60_000)
    assert tab.locator("[role=status]").inner_text() == "Take your boots off now"
    assert tab.locator("[data-count]").inner_text() == "0:00"
    tab.reload()
    assert tab.locator("[role=status]").inner_text() == "Take your boots off now"
    assert tab.problems == []


@pytest.mark.browser
def test_a_wear_begun_before_midnight_goes_on_counting_after_it(chromium, tmp_path):
    """Half past eleven, an hour: opened again at ten past twelve it counts on, at twenty to one it
    says to take them off.
    """
    plan = make_plan(PICKED_UP, clock("America/New_York", 23, 30), WearRules((60, 60, 60)))
    tab = opened(chromium, tmp_path, sheet_of(plan), datetime(2026, 4, 25, 3, 30, tzinfo=UTC))
    tab.click("button")
    tab.clock.fast_forward(40 * 60_000)
    tab.reload()
    assert tab.locator("[data-count]").inner_text() == "20:00"
    assert not tab.locator("button").is_visible()
    tab.clock.fast_forward(30 * 60_000)
    tab.reload()
    assert tab.locator("[role=status]").inner_text() == "Take your boots off now"
    tab.clock.fast_forward(22 * 3600_000)
    tab.reload()
    assert tab.locator("button").is_visible()
    assert tab.problems == []


@pytest.mark.browser
@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_the_saved_file_is_complete_and_narrow_enough(chromium, tmp_path, script):
    """On a rest day and without script there is no timer, nothing scrolls sideways at 320 px, and
    every day can be read.
    """
    sheet = sheet_of(a_plan(preset("growing")))
    tab = opened(
        chromium,
        tmp_path,
        sheet,
        datetime(2026, 4, 25, 22, 5, tzinfo=UTC),
        java_script_enabled=script,
    )
    assert not tab.locator("[data-timer]").is_visible()
    assert tab.locator(".row").count() == len(day_lines(sheet, in_english))
    assert all(row.is_visible() for row in tab.locator(".row .title").all())
    box = tab.locator("main").bounding_box()
    assert box["x"] + box["width"] <= 320
    if script:
        assert tab.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.browser
def test_no_month_is_broken_in_its_margin(chromium, tmp_path):
    """The longest Spanish months stand on one line each, also on a narrow phone."""
    plan = make_plan(
        datetime(2026, 12, 1, 15, tzinfo=UTC), clock("America/New_York", 18, 0), WearRules((30,))
    )
    tab = opened(
        chromium, tmp_path, sheet_of(plan, language="es"), datetime(2026, 12, 1, 20, tzinfo=UTC)
    )
    lines = tab.evaluate(
        """() => {
          const text = document.querySelector(".when").lastChild, month = document.createRange();
          const [name] = text.data.match(/\\p{L}+/u), from = text.data.indexOf(name);
          month.setStart(text, from);
          month.setEnd(text, from + name.length);
          return month.getClientRects().length;
        }"""
    )
    assert lines == 1


@pytest.mark.browser
def test_the_saved_file_has_no_barrier(chromium, tmp_path):
    """axe-core finds nothing, with the timer showing, in light and in dark."""
    for scheme, rules in (("light", barriers.EVERYTHING), ("dark", barriers.COLOURS)):
        tab = opened(
            chromium,
            tmp_path,
            sheet_of(a_plan()),
            datetime(2026, 4, 25, 22, 5, tzinfo=UTC),
            color_scheme=scheme,
            bypass_csp=True,
        )
        barriers.inject(tab)
        assert barriers.barred(tab, rules) == []
