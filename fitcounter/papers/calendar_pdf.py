"""The wearing-in calendar on paper, A4 or Letter, black and white: to hang on the fridge and write
on.
"""

from __future__ import annotations

from typing import Final

from markupsafe import Markup

from fitcounter.papers.calendar_days import (
    cautions,
    day_lines,
    density,
    for_paper,
    missed_together,
    when_on,
)
from fitcounter.papers.calendar_records import CalendarSheet
from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Document, print_pdf
from fitcounter.papers.qr_code import short_way_to, square
from fitcounter.papers.records import Paper

_LONGEST_NAME: Final = (
    48  # characters: what stands in the heading without pushing the days off the page
)
_LONGEST_CALL: Final = 160
_MODULE_MM: Final = 0.62  # of the squares: a page address stays within 34 mm


def calendar_pdf(
    sheet: CalendarSheet, say: Say = in_english, paper: Paper = "a4", *, large: bool = False
) -> bytes:
    """The calendar as PDF: no letter under 12 points, under 18 where it is large.

    The days and when to stop stand on the first page, and all of a usual plan. Where it is large,
    when to stop comes before the days, which may go on over the page.
    say: gives our sentences in the language of the sheet.

    Raises Unavailable when PDFs cannot be made here, KeyError for a sentence the sheet does not
    have.
    """
    every = missed_together(day_lines(sheet, say))
    lines = for_paper(every, say)
    return print_pdf(
        Document("calendar.html", sheet.texts["calendar"], paper, sheet.language, say),
        sheet=sheet,
        name=_short(sheet.first_name, _LONGEST_NAME),
        shop_name=_short(sheet.shop_name, _LONGEST_NAME),
        call=_short(_whom_to_call(sheet), _LONGEST_CALL),
        lines=lines,
        rests_left_out=any(line.state == "rest" and line.day for line in set(every) - set(lines)),
        cautions=cautions(say),
        when_on=when_on(lines, say),
        density=density(lines),
        large=large,
        printed=sheet.as_of,
        squares=_squares(sheet, say) if sheet.link else (),
        second=short_way_to(sheet.link, sheet.typed, say, _MODULE_MM),
    )


def _squares(sheet: CalendarSheet, say: Say) -> tuple[tuple[Markup, str], ...]:
    """What to scan, each with the words below it."""
    codes = [(sheet.link, say("Code to scan for your own page"), say("your days now"))]
    if sheet.into_phone:
        title = say("Code to scan for your phone's calendar")
        codes.append((sheet.into_phone, title, say("phone calendar")))
    return tuple(
        (square(address, title=title, module_mm=_MODULE_MM), words)
        for address, title, words in codes
    )


def _whom_to_call(sheet: CalendarSheet) -> str:
    """The sentence, whose phone number no line breaks at a blank."""
    whole = sheet.shop_phone.replace(" ", "\N{NO-BREAK SPACE}")
    return sheet.texts["call"].replace(sheet.shop_phone, whole)


def _short(words: str, longest: int) -> str:
    """The words, or their beginning where they would not fit the heading."""
    return words if len(words) <= longest else f"{words[: longest - 1]}…"
