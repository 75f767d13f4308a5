"""The handbook's figures for measuring a tree, and the bounds of the bench plan.

Nothing here is published: each is the shop's own choice, and says so. Limits of looseness and the
weight of a late day are in handbook_shop.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust

MEASURING = Chapter("Measuring a tree")
SAME_HEIGHT_MM = MEASURING.choice(
    "readings of a tree are at one height within",
    5.0,
    "mm",
    "one step of the heights that are evaluated",
)
LEAST_SPREAD = MEASURING.choice(
    "settings a tree is measured at lie apart by",
    0.2,
    "share",
    "from closer ones the far end is a guess",
)
LEAST_HEIGHTS = MEASURING.choice(
    "heights that make a tree measured", 2, "heights", "a tree does not open at one height only"
)

BOUNDS = Chapter("Bounds of the bench plan")
HOURS_A_DAY = BOUNDS.figure("a day", 24, "h", Trust.STANDARD, "SI brochure, 9th edition, table 8")
HORIZON_DAYS = BOUNDS.choice(
    "a hold starts within", 400, "days", "a tree that is not free within a year is no promise"
)
MOST_HOLD_H = BOUNDS.choice(
    "longest hold planned", 720, "h", "30 days: longer is a boot forgotten on a tree"
)
MOST_REST_DAYS = BOUNDS.choice(
    "longest rest planned", 14, "days", "two weeks: more is a slip of the finger"
)
MOST_WORK_DAYS = BOUNDS.choice(
    "most days of preparing or finishing", 14, "days", "two weeks: more is a slip of the finger"
)
MOST_ROUNDS = BOUNDS.choice(
    "most rounds planned", 20, "rounds", "far past any job: more is a slip of the finger"
)
QUESTION_PLACEMENTS = BOUNDS.choice(
    "the same while a question is asked of the plan",
    5_000,
    "holds",
    "a tenth: it is asked many times",
)
PLACEMENTS = BOUNDS.choice(
    "holds placed while looking for a better plan",
    50_000,
    "holds",
    "counted, not timed: same bench, same plan",
)

DAILY = Chapter("The bench from day to day")
TURN_UP_AFTER_H = DAILY.choice(
    "a boot is listed to be turned up after",
    3,
    "h",
    "the first hours do most; then a step more costs little",
)
MOST_LEFT_ON_DAYS = DAILY.choice(
    "a boot is left on its tree for at most", 30, "days", "the longest hold that is planned"
)
LONGEST_AWAY_DAYS = DAILY.choice(
    "the bench is away at once for at most",
    120,
    "days",
    "four months: more is a slip of the finger",
)
DAYS_SHOWN = DAILY.choice(
    "days that the page of the plan draws", 35, "days", "five weeks; later days stand in words"
)
PROPOSALS = DAILY.choice(
    "late pairs that a shorter hold is tried for",
    3,
    "pairs",
    "the first ones: the page is to stay quick",
)

CHAPTERS = (MEASURING, BOUNDS, DAILY)
