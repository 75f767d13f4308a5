"""The handbook: every figure the computation uses, once, with its value, unit, source and a word
for its trust.

Its chapters are written in the handbook_… modules, beside each other for easy reading; the modules
that compute read their numbers from there. This is what pages and the command line print.
"""

from __future__ import annotations

from fitcounter.fit.handbook import anchors as handbook_anchors
from fitcounter.fit.handbook import bench as handbook_bench
from fitcounter.fit.handbook import job as handbook_job
from fitcounter.fit.handbook import leather as handbook_leather
from fitcounter.fit.handbook import leg as handbook_leg
from fitcounter.fit.handbook import load as handbook_load
from fitcounter.fit.handbook import plausible as handbook_plausible
from fitcounter.fit.handbook import rounds as handbook_rounds
from fitcounter.fit.handbook import shop as handbook_shop
from fitcounter.fit.handbook import wearing
from fitcounter.fit.handbook.figure import Chapter, Figure

CHAPTERS: tuple[Chapter, ...] = (
    *handbook_leg.CHAPTERS,
    *handbook_plausible.CHAPTERS,
    *handbook_leather.CHAPTERS,
    *handbook_load.CHAPTERS,
    *handbook_anchors.CHAPTERS,
    *handbook_rounds.CHAPTERS,
    *handbook_shop.CHAPTERS,
    *handbook_bench.CHAPTERS,
    wearing.WEARING,
    wearing.GUARANTEE,
    *handbook_job.CHAPTERS,
)


def entries() -> list[Figure]:
    """Every figure, chapter by chapter, in the order of the book."""
    return [figure for chapter in CHAPTERS for figure in chapter.figures]
