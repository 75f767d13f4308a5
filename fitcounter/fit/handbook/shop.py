"""The handbook's figures for choosing trees and weighing the bench plan, all the shop's own
choice.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust

TREES = Chapter("Trees")
LOOSER_MM = TREES.choice(
    "a tree may leave a height looser by at most", 6.0, "mm", "¼ in: more shows and slips"
)
LEAST_OPENING_MM = TREES.choice(
    "a tree serves from an opening of", 1.0, "mm", "less the tape does not show"
)
NEAR_ASKED_MM = TREES.choice(
    "heights that belong to the asked one, within",
    60.0,
    "mm",
    "a tree cannot open at one height only",
)
SHIFT_MOST_MM = TREES.choice(
    "a tree is set higher or lower by at most", 50.0, "mm", "further it would not sit in the shaft"
)
SHIFT_STEP_MM, SHIFT_STEP_INCH_MM = (
    TREES.figure(
        name, mm, "mm", Trust.COMMON_PRACTICE, "trees are set up or down a little; no source"
    )
    for name, mm in (("in steps of", 10.0), ("in steps of, by inches", 12.7))
)

BENCH = Chapter("The bench plan")
LATE_WEIGHT = BENCH.choice(
    "a late day weighs as much as", 10, "early days", "a promise is worth more than speed"
)
PREPARING_DAYS = BENCH.choice("preparing takes", 1, "day", "conditioner needs a night")
FINISHING_DAYS = BENCH.choice("finishing takes", 1, "day", "clean, colour, dry")

CHAPTERS = (TREES, BENCH)
