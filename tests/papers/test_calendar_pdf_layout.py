"""How the calendar lies on its page: columns, lines, size of letters, first sheet and second, and
the way that a screen reader goes.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from itertools import groupby, pairwise

import numpy as np
import pypdfium2
import pytest
from papers.paper_calendar import a_plan, in_spanish, sheet_of

from fitcounter.desk.common.translation import speech
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import record_wear
from fitcounter.papers.calendar_pdf import calendar_pdf


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
def test_longer_languages_fit_the_page_too(reader, paper):
    """Spanish takes more room than English, and so do the codes to scan and the address to type:
    twenty wears stand on two pages.
    """
    sheet = in_spanish(sheet_of(a_plan(WearRules((30,) * 20, 48, "start", True))))
    first, *more = reader.pages(calendar_pdf(sheet, speech("es").say, paper))
    assert len(more) == 1
    assert sheet.texts["stop"] in first


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
    assert len(reader.pages(pdf)) == 1
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
