"""The handbook's figures that the limits are compared with: leather tests, trade limits, a saying.

Nothing is computed from them but the sentences of `assessment.handbook_notes`.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust

ANCHORS = Chapter("Anchors beside the ceiling")
BALL_CLAMP_RADIUS_MM = ANCHORS.figure(
    "ball test: clamp radius",
    12.5,
    "mm",
    Trust.PUBLISHED,
    "ISO 3379 method, from a tester maker's page",
)
BALL_RADIUS_MM = ANCHORS.figure(
    "ball test: ball radius",
    3.125,
    "mm",
    Trust.PUBLISHED,
    "ISO 3379 method, from a tester maker's page",
)
BALL_HEIGHT_MM = ANCHORS.figure(
    "ball test: least distension", 7.0, "mm", Trust.PUBLISHED, "UNIDO quality levels; from memory"
)
DOME_AREA = ANCHORS.figure(
    "set-in-lasting test: gain of area",
    0.15,
    "share",
    Trust.PUBLISHED,
    "BS 3144 method, from its fixture's maker",
)
DOME_RADIUS_MM = ANCHORS.figure(
    "set-in-lasting test: radius",
    35.0,
    "mm",
    Trust.PUBLISHED,
    "BS 3144 method, from its fixture's maker",
)
LINED_VISIT_INCH = ANCHORS.figure(
    "one visit, lined", 3 / 8, "in", Trust.PUBLISHED, "one experienced wearer's page, 2011; weak"
)
UNLINED_VISIT_INCH = ANCHORS.figure(
    "one visit, unlined", 1 / 2, "in", Trust.PUBLISHED, "one experienced wearer's page, 2011; weak"
)
EIGHTH_MORE = ANCHORS.figure(
    "week-long rounds on supple lined leather",
    0.12,
    "share",
    Trust.COMMON_PRACTICE,
    "an eighth more girth; no source",
)
COATED_BREAK = ANCHORS.figure(
    "coated fabric may break at",
    0.07,
    "share",
    Trust.PUBLISHED,
    "a buyer's specification (IS 7016-2)",
)
LEATHER_BREAK_LOW_MPA = ANCHORS.figure(
    "leather breaks from", 8.0, "MPa", Trust.PUBLISHED, "an online leather dictionary, 2017; weak"
)
LEATHER_BREAK_HIGH_MPA = ANCHORS.figure(
    "leather breaks up to", 25.0, "MPa", Trust.PUBLISHED, "an online leather dictionary, 2017; weak"
)
SAYING_PSI = ANCHORS.figure(
    "the saying: to stretch leather",
    600,
    "psi",
    Trust.COMMON_PRACTICE,
    "no source; see the note on it",
)
MPA_PER_PSI = ANCHORS.figure(
    "pound per square inch",
    0.006894757293168361,
    "MPa",
    Trust.STANDARD,
    "1 lbf = 4.4482216152605 N, 1 in = 25.4 mm",
)
SAYING_RADIUS_MM = ANCHORS.choice(
    "the saying: radius of a shaft", 60.0, "mm", "a girth of 377 mm, an ordinary calf"
)
SAYING_THIN_MM = ANCHORS.choice(
    "the saying: a thin shaft", 1.2, "mm", "full-grain cowhide, from memory"
)
SAYING_THICK_MM = ANCHORS.choice(
    "the saying: a thick shaft", 2.0, "mm", "full-grain cowhide, from memory"
)
ANCHOR_GIRTHS_MM = (
    ANCHORS.choice(
        "a narrow calf, to read inches as strain", 340.0, "mm", "an ordinary range of boots"
    ),
    ANCHORS.choice(
        "a fuller calf, to read inches as strain", 380.0, "mm", "an ordinary range of boots"
    ),
)

EIGHTH_OF_LEATHER = ANCHORS.figure(
    "that, with 50 of 362 mm not leather: of the leather for good",
    0.145,
    "share",
    Trust.OUR_MODEL,
    "an eighth of 362 mm over the 312 mm that are leather",
)
EIGHTH_ON_THE_TREE = tuple(
    ANCHORS.figure(
        f"that, on the tree in {rounds} rounds",
        share,
        "share",
        Trust.OUR_MODEL,
        "0.145 over what two, three or four rounds keep together",
    )
    for rounds, share in (("two", 0.175), ("three", 0.157), ("four", 0.151))
)

CHAPTERS = (ANCHORS,)
