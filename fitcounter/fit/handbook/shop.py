"""The handbook's figures for choosing trees and weighing the bench plan, all the shop's own
choice.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter

TREES = Chapter("Trees")
LOOSER_MM = TREES.choice(
    "a tree may leave a height looser by at most", 6.0, "mm", "¼ in: more shows and slips"
)
NEAR_ASKED_MM = TREES.choice(
    "heights that belong to the asked one, within",
    60.0,
    "mm",
    "a tree cannot open at one height only",
)

BENCH = Chapter("The bench plan")
LATE_WEIGHT = BENCH.choice(
    "a late day weighs as much as", 10, "early days", "a promise is worth more than speed"
)
PREPARING_DAYS = BENCH.choice("preparing takes", 1, "day", "conditioner needs a night")
FINISHING_DAYS = BENCH.choice("finishing takes", 1, "day", "clean, colour, dry")

CHAPTERS = (TREES, BENCH)
