"""The calendar saved as one file: it asks for nothing, is complete without script, and counts a
wear on a phone without network.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from browser.pages import barriers
from papers.paper_calendar import PICKED_UP, a_plan, sheet_of

from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import make_plan
from fitcounter.papers.calendar_days import day_lines
from fitcounter.papers.html import in_english
from fitcounter.papers.saved_page import calendar_page


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
