"""The handbook's figures for wearing in and for the guarantee: lengths of the wears, rests, limits
of what can be set.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust

_NO_SOURCE = "the trade's habit; no source"
_SETTING = "wide enough for any shop, narrow enough to catch a slip of the finger"

WEARING = Chapter("Wearing in")
HOURS_A_DAY = WEARING.figure(
    "hours in an ordinary day",
    24,
    "h",
    Trust.STANDARD,
    "days of 23 and 25 hours are counted as they are",
)
MINUTES_A_DAY = WEARING.figure(
    "minutes in an ordinary day", 1440, "min", Trust.STANDARD, "24 times 60"
)
LAST_HOUR = WEARING.figure("last hour on the clock", 23, "h", Trust.STANDARD, "ISO 8601")
LAST_MINUTE = WEARING.figure("last minute of an hour", 59, "min", Trust.STANDARD, "ISO 8601")
THREE_SHORT_WEARS_MIN = tuple(
    WEARING.figure(
        f"three short wears, wear {n}", minutes, "min", Trust.COMMON_PRACTICE, _NO_SOURCE
    )
    for n, minutes in enumerate((30, 30, 30), start=1)
)
GROWING_MIN = tuple(
    WEARING.figure(f"growing, wear {n}", minutes, "min", Trust.COMMON_PRACTICE, _NO_SOURCE)
    for n, minutes in enumerate((30, 30, 60, 120, 240, 480), start=1)
)
REST_H = WEARING.figure(
    "rest from putting on to putting on",
    24,
    "h",
    Trust.COMMON_PRACTICE,
    "so that moisture leaves; no source",
)
TOO_LONG_OVER_MIN = WEARING.choice(
    "a wear is too long past its length by over", 5, "min", "slower than that is not forgetfulness"
)
ASKED_OVER = WEARING.choice(
    "a wear is asked about over so many times its length", 1.5, "", "45 minutes where 30 were meant"
)
ASKED_UNDER = WEARING.choice(
    "a wear is asked about under this part of its length", 0.5, "", "did something hurt?"
)
NIGHT_FROM_H = WEARING.choice(
    "no wear is put at or after", 22, "h", "who is tired falls asleep in their boots"
)
NIGHT_TO_H = WEARING.choice("no wear is put before", 7, "h", "who is tired falls asleep in them")
SLIPPED_DAYS = WEARING.choice(
    "a plan that slipped asks to start again after", 7, "days", "the leather has gone back by then"
)
MISSED_TOLD_DAYS = WEARING.choice(
    "missed days can be told of as far back as", 14, "days", "who remembers which day it was?"
)
EXTRA_REST_DAYS = WEARING.choice(
    "rest after a wear that was too long, more by",
    1,
    "day",
    "the leather was pulled longer than it had set",
)
LATE_AFTER_H = WEARING.choice(
    "first wear is late past",
    36,
    "h",
    "off the tree, most of the return comes in 24 to 36 h: common practice",
)
WHOLE_DAY_AFTER_DAYS = WEARING.choice(
    "first whole day after ordinary wear begins", 1, "day", "an outing first: does it feel right?"
)
MOST_WEARS = WEARING.choice("wears of a plan at most", 20, "wears", _SETTING)
LONGEST_WEAR_MIN = WEARING.choice("planned length of a wear at most", 960, "min", "a waking day")
LONGEST_REST_H = WEARING.choice("rest at most", 240, "h", "ten days")

GUARANTEE = Chapter("The guarantee")
GUARANTEE_YEARS = GUARANTEE.choice(
    "guarantee unless the shop says otherwise", 1, "year", "a whole round of seasons"
)
MONTHS_A_YEAR = GUARANTEE.figure(
    "months in a year", 12, "months", Trust.STANDARD, "Gregorian calendar"
)
LONGEST_TERM = {
    unit: GUARANTEE.choice(f"guarantee in {unit} at most", count, unit, _SETTING)
    for unit, count in (("years", 10), ("months", 120), ("days", 3660))
}
BOOT_BACK_OVER_MM = GUARANTEE.choice(
    "the boot went back by over", 4, "mm", "what two readings of a boot may differ by"
)
LEG_FULLER_OVER_MM = GUARANTEE.choice(
    "the leg is fuller by over",
    6,
    "mm",
    "readers agree within 6 mm in 96 % of readings (Tunc 2007)",
)

CHAPTERS = (WEARING, GUARANTEE)
