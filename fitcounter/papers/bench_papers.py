"""The bench's own papers: bench card, evening sheet, blank slips, and the wall strip of trees.

They hold the shop when the computer does not: what is open, where it is, what comes next, and rows
for a pencil.
"""

from __future__ import annotations

from typing import Any, Final

from markupsafe import Markup

from fitcounter.fit.tagcode import show_code
from fitcounter.papers.bench_records import BenchCard, BlankSlips, EveningSheet
from fitcounter.papers.html import in_words, raw
from fitcounter.papers.pdf import print_page, print_pdf
from fitcounter.papers.qr_code import square
from fitcounter.papers.records import WallStrip

_SIDES: Final = {"left": "Left", "right": "Right", "either": "Left or right", "": "Not a boot"}
_LONGEST_SQUARE: Final = 33
_EMPTY_ROWS: Final = 2
_USUAL_FINDINGS: Final = (
    "zip",
    "seams",
    "leather, finish",
    "lining",
    "elastic",
    "heel, sole",
    "earlier work",
)


def bench_card(card: BenchCard) -> bytes:
    """One job for the bench as PDF, with rows for a pencil.

    Raises Unavailable when PDFs cannot be made here.
    """
    return print_pdf(
        "bench_card.html",
        title=f"Bench card {card.number}",
        paper=card.paper,
        number=card.number,
        shop=card.shop,
        card=card,
        sides=_SIDES,
        ink=Markup("<style>{}</style>").format(
            Markup(raw("plate.css"))
        ),  # a drawing in a PDF is styled from within or not at all
        square=(
            square(card.address, title=f"Code to scan for job {card.number}")
            if card.address
            else None
        ),
    )


def evening_sheet(sheet: EveningSheet) -> bytes:
    """Everything open at closing time as PDF, any number of pages. Raises as bench_card."""
    return print_pdf("evening.html", title=_evening_title(sheet), **_evening_words(sheet))


def evening_page(sheet: EveningSheet) -> bytes:
    """The same as one HTML file, to be printed with a browser where PDFs cannot be made."""
    return print_page("evening.html", title=_evening_title(sheet), **_evening_words(sheet))


def _evening_title(sheet: EveningSheet) -> str:
    return f"Evening sheet, {in_words(sheet.day, 'en', 'long')}"


def _evening_words(sheet: EveningSheet) -> dict[str, Any]:
    return {
        "paper": sheet.paper,
        "shop": sheet.shop,
        "sheet": sheet,
        "late": sum(job.late for job in sheet.jobs),
    }


def blank_slips(slips: BlankSlips) -> bytes:
    """Slips for a day on paper as PDF: `copies` times New job and Measure, once Bench and pickup.

    Raises as bench_card.
    """
    return print_pdf(
        "slips.html",
        title="Slips for a day on paper",
        paper=slips.paper,
        shop=slips.shop,
        slips=slips if slips.findings else _with_usual_findings(slips),
        rows=(*slips.heights, *[""] * _EMPTY_ROWS),
    )


def wall_strip(strip: WallStrip) -> bytes:
    """All trees with their codes as PDF.

    Raises as bench_card, and BadInput when an address is too long for a square.
    """
    trees = [
        (
            tree,
            square(
                tree.address.upper(),
                title=f"Code to scan for tree {tree.label}",
                most_modules=_LONGEST_SQUARE,
            ),
            show_code(tree.code),
        )
        for tree in strip.trees
    ]
    return print_pdf(
        "wall.html", title="Trees", paper=strip.paper, shop=strip.shop, trees=trees, sides=_SIDES
    )


def _with_usual_findings(slips: BlankSlips) -> BlankSlips:
    """The same slips with the usual places to look at."""
    return BlankSlips(
        slips.shop, slips.heights, slips.unit, slips.copies, _USUAL_FINDINGS, slips.paper
    )
