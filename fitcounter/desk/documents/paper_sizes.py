"""What papers are printed on: a page, or for claim checks, receipts and the closed till a small
sheet or a till roll, as the shop chose once.
"""

from __future__ import annotations

from fitcounter.desk.shop import Shop
from fitcounter.papers.records import Paper

LETTER_COUNTRIES = ("US", "CA", "MX", "PH", "CL", "CO")  # where paper is ANSI Letter; from memory
SMALL: tuple[Paper, ...] = ("a6", "half", "roll80", "roll58")


def of_pages(shop: Shop) -> Paper:
    """As chosen, else as the shop's country has them."""
    usual: Paper = "letter" if shop.country in LETTER_COUNTRIES else "a4"
    chosen: dict[str, Paper] = {"a4": "a4", "letter": "letter"}
    return chosen.get(shop.paper, usual)


def of_slips(shop: Shop) -> Paper:
    """A full page where nothing smaller is chosen."""
    return next((size for size in SMALL if size == shop.slip_paper), of_pages(shop))
