"""The handbook's figures for trees, the bench plan, wearing-in and the guarantee."""

from __future__ import annotations

from fitcounter.fit.figure import Chapter, Trust

TREES = Chapter("Trees")
LOOSER_MM = TREES.choice("a tree may leave a height looser by at most", 6.0, "mm", "¼ in: more shows and slips")
NEAR_ASKED_MM = TREES.choice("heights that belong to the asked one, within", 60.0, "mm", "a tree cannot open at one height only")

BENCH = Chapter("The bench plan")
LATE_WEIGHT = BENCH.choice("a late day weighs as much as", 10, "early days", "a promise is worth more than speed")
PREPARING_DAYS = BENCH.choice("preparing takes", 1, "day", "conditioner needs a night")
FINISHING_DAYS = BENCH.choice("finishing takes", 1, "day", "clean, colour, dry")

WEARING_IN = Chapter("Wearing-in")
SHORT_WEAR_MINUTES = WEARING_IN.figure("a short wear", 30, "minutes", Trust.COMMON_PRACTICE, "no source")
SHORT_WEARS = WEARING_IN.figure("short wears", 3, "wears", Trust.COMMON_PRACTICE, "no source")
GROWING_WEARS_MINUTES = tuple(
    WEARING_IN.figure("a growing wear", minutes, "minutes", Trust.COMMON_PRACTICE, "no source") for minutes in (30, 30, 60, 120, 240, 480)
)
WEAR_REST_H = WEARING_IN.figure("from putting on to putting on", 24, "h", Trust.COMMON_PRACTICE, "no source")
LONGER_MINUTES = WEARING_IN.choice("longer than planned counts from", 5, "minutes", "a kitchen clock's honesty")
OFF_SHAPER_H = WEARING_IN.choice("off tree and shaper before the first wear at most", 36, "h", "most return comes in the first 24 to 36 h")

GUARANTEE = Chapter("The guarantee")
GUARANTEE_YEARS = GUARANTEE.choice("guarantee from pickup", 1, "year", "editable by the shop")
BOOT_BACK_MM = GUARANTEE.choice("the boot went back from", 4.0, "mm", "above two readings' error")
LEG_FULLER_MM = GUARANTEE.choice("the leg grew from", 6.0, "mm", "above two readings' error and a day's swelling")

CHAPTERS = (TREES, BENCH, WEARING_IN, GUARANTEE)
