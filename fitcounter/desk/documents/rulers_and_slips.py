"""Rulers, the leg board and the wall card with the shop's heights, and blank slips for a day on
paper.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import spoken
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.shop import Shop
from fitcounter.papers import bench_papers, rulers
from fitcounter.papers.bench_records import (
    BlankSlips,
    RulerMark,
    Rulers,
)


def rulers_pdf(shop: Shop) -> bytes:
    """Boot stick, leg board and wall card with the shop's heights."""
    unit: Literal["in", "cm"] = "cm" if shop.unit == "cm" else "in"
    marks = tuple(
        RulerMark(Fraction(str(one)), say_length(one, unit).removesuffix(f" {unit}"))
        for one in shop.heights_mm
    )
    record = Rulers(head(shop), marks, unit, paper_sizes.of_pages(shop))
    return rulers.rulers(record, spoken().say, spoken().locale)


def slips_pdf(shop: Shop) -> bytes:
    """Slips for a day on paper, in the order of the screens."""
    unit: Literal["in", "cm"] = "cm" if shop.unit == "cm" else "in"
    heights = tuple(say_length(one, unit).removesuffix(f" {unit}") for one in shop.heights_mm)
    slips = BlankSlips(head(shop), heights, unit, paper=paper_sizes.of_pages(shop))
    return bench_papers.blank_slips(slips, spoken().say, spoken().locale)
