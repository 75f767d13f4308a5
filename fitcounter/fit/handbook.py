"""The handbook: every figure the computation uses, once, with its value, unit, source and a word for its trust.

Its chapters are written in the handbook_… modules, beside each other for easy reading; the modules that compute read
their numbers from there. This is what pages and the command line print.
"""

from __future__ import annotations

from fitcounter.fit import (
    handbook_bench,
    handbook_job,
    handbook_leather,
    handbook_leg,
    handbook_rounds,
    handbook_shop,
    handbook_wearing,
)
from fitcounter.fit.figure import Chapter, Figure

CHAPTERS: tuple[Chapter, ...] = (
    *handbook_leg.CHAPTERS,
    *handbook_leather.CHAPTERS,
    *handbook_rounds.CHAPTERS,
    *handbook_shop.CHAPTERS,
    *handbook_bench.CHAPTERS,
    handbook_wearing.WEARING,
    handbook_wearing.GUARANTEE,
    *handbook_job.CHAPTERS,
)


def entries() -> list[Figure]:
    """Every figure, chapter by chapter, in the order of the book."""
    return [figure for chapter in CHAPTERS for figure in chapter.figures]
