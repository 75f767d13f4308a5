"""The wearing-in calendar on one page of paper, A4 or Letter, black and white: to hang on a door
and write on.
"""

from __future__ import annotations

from typing import Final

from fitcounter.papers.calendar_days import cautions, day_lines, density
from fitcounter.papers.calendar_records import CalendarSheet
from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import print_pdf
from fitcounter.papers.qr_code import square
from fitcounter.papers.records import Paper

_LONGEST_NAME: Final = (
    48  # characters: what stands in the heading without pushing the days off the page
)
_LONGEST_CALL: Final = 160


def calendar_pdf(sheet: CalendarSheet, say: Say = in_english, paper: Paper = "a4") -> bytes:
    """The calendar as PDF, one page whatever the plan. say: gives our sentences in the language of
    the sheet.

    Raises Unavailable when PDFs cannot be made here, KeyError for a sentence the sheet does not
    have.
    """
    lines = day_lines(sheet, say)
    return print_pdf(
        "calendar.html",
        title=sheet.texts["calendar"],
        paper=paper,
        language=sheet.language,
        say=say,
        sheet=sheet,
        name=_short(sheet.first_name, _LONGEST_NAME),
        shop_name=_short(sheet.shop_name, _LONGEST_NAME),
        call=_short(sheet.texts["call"], _LONGEST_CALL),
        lines=lines,
        cautions=cautions(say),
        density=density(lines),
        square=(
            square(sheet.link, title=say("Code to scan for your own page"), module_mm=0.7)
            if sheet.link
            else None
        ),
    )


def _short(words: str, longest: int) -> str:
    """The words, or their beginning where they would not fit the heading."""
    return words if len(words) <= longest else f"{words[: longest - 1]}…"
