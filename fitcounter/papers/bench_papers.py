"""The bench's own papers: bench card, evening sheet, blank slips, and the wall strip of trees.

They hold the shop when the computer does not: what is open, where it is, what comes next, and rows
for a pencil.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from markupsafe import Markup

from fitcounter.errors import message
from fitcounter.fit.tagcode import show_code
from fitcounter.papers.bench_records import BenchCard, BlankSlips, EveningSheet
from fitcounter.papers.html import Say, in_english, in_words, raw
from fitcounter.papers.pdf import Document, print_page, print_pdf
from fitcounter.papers.qr_code import square
from fitcounter.papers.records import WallStrip

_SIDES: Final = {
    "left": message("Left"),
    "right": message("Right"),
    "either": message("Left or right"),
    "": message("Not a boot"),
}
_LONGEST_SQUARE: Final = 33
_EMPTY_ROWS: Final = 2
_USUAL_FINDINGS: Final = (
    message("zipper"),
    message("seams"),
    message("leather, finish"),
    message("lining"),
    message("elastic"),
    message("heel, sole"),
    message("earlier work"),
)


def bench_card(card: BenchCard, say: Say = in_english, language: str = "en") -> bytes:
    """One job for the bench as PDF, with rows for a pencil. say: gives our sentences in the
    language.

    Raises Unavailable when PDFs cannot be made here.
    """
    return print_pdf(
        Document(
            "bench_card.html",
            say("Bench card {number}", number=card.number),
            card.paper,
            language,
            say,
        ),
        number=card.number,
        shop=card.shop,
        card=card,
        sides=_said(_SIDES, say),
        # a drawing in a PDF is styled from within or not at all
        ink=Markup("<style>{}</style>").format(Markup(raw("plate.css"))),
        square=(
            square(card.address, title=say("Code to scan for job {number}", number=card.number))
            if card.address
            else None
        ),
    )


def evening_sheet(sheet: EveningSheet, say: Say = in_english, language: str = "en") -> bytes:
    """Everything open at closing time as PDF, any number of pages. Raises as bench_card."""
    return print_pdf(**_evening(sheet, say, language))


def evening_page(sheet: EveningSheet, say: Say = in_english, language: str = "en") -> bytes:
    """The same as one HTML file, to be printed with a browser where PDFs cannot be made."""
    return print_page(**_evening(sheet, say, language))


def _evening(sheet: EveningSheet, say: Say, language: str) -> dict[str, Any]:
    return {
        "document": Document(
            "evening.html",
            say("Evening sheet, {day}", day=in_words(sheet.day, language, "long")),
            sheet.paper,
            language,
            say,
        ),
        "shop": sheet.shop,
        "sheet": sheet,
        "late": sum(job.late for job in sheet.jobs),
    }


def blank_slips(slips: BlankSlips, say: Say = in_english, language: str = "en") -> bytes:
    """Slips for a day on paper as PDF: `copies` times New job and Measure, once Bench and pickup.

    Raises as bench_card.
    """
    return print_pdf(
        Document("slips.html", say("Slips for a day on paper"), slips.paper, language, say),
        shop=slips.shop,
        slips=slips if slips.findings else _with_usual_findings(slips, say),
        rows=(*slips.heights, *[""] * _EMPTY_ROWS),
    )


def wall_strip(strip: WallStrip, say: Say = in_english, language: str = "en") -> bytes:
    """All trees with their codes as PDF.

    Raises as bench_card, and BadInput when an address is too long for a square.
    """
    trees = [
        (
            tree,
            square(
                tree.address.upper(),
                title=say("Code to scan for tree {tree}", tree=tree.label),
                most_modules=_LONGEST_SQUARE,
            ),
            show_code(tree.code),
        )
        for tree in strip.trees
    ]
    return print_pdf(
        Document("wall.html", say("Trees"), strip.paper, language, say),
        shop=strip.shop,
        trees=trees,
        sides=_said(_SIDES, say),
    )


def _said(names: Mapping[str, str], say: Say) -> dict[str, str]:
    return {key: say(name) for key, name in names.items()}


def _with_usual_findings(slips: BlankSlips, say: Say) -> BlankSlips:
    """The same slips with the usual places to look at."""
    return replace(slips, findings=tuple(say(one) for one in _USUAL_FINDINGS))
