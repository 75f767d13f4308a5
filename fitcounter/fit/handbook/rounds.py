"""The handbook's figures for rounds on the tree: kept fraction, records, forecast, verdict,
cautions.

Fractions are shares of the opening that stays; times are hours.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust

KEPT = Chapter("What a round keeps")
KEPT_BASE_H = KEPT.choice(
    "the table's kept fraction holds after", 24.0, "h", "the shortest hold that is usual"
)
KEPT_PER_DECADE = KEPT.choice(
    "more for each tenfold hold",
    0.12,
    "share",
    "stress falls linearly with log time (Ward 1974); the size is ours",
)
KEPT_LEAST = KEPT.choice("kept at least", 0.05, "share", "something always stays")
KEPT_MOST = KEPT.choice(
    "kept at most", 0.95, "share", "steam-set leather kept about 70 % after 7 days (SLTC abstract)"
)
DRY_FACTOR = KEPT.choice(
    "prepared dry, times", 0.6, "", "dry leather is mainly elastic (Ward 1974); the size is ours"
)
STIFFENING = KEPT.choice(
    "each further round of the boot's life, times",
    0.95,
    "",
    "dried under strain it stiffens (Sturrock 2004); the size is ours",
)
PAIR_VARIANCE = KEPT.choice(
    "variance between pairs of a class", 0.0075, "", "with the next two, the table's 0.15 squared"
)
OWN_BOOT_VARIANCE = KEPT.choice(
    "variance between the boots of a pair", 0.0050, "", "one hide, two cuts; the size is ours"
)
PAIR_SHARES_LEAST = KEPT.choice(
    "of its spread a boot shares with its pair at least", 0.6, "share", "as in the table's spread"
)
OTHER_BOOT_SAID = KEPT.choice(
    "the other boot is named where it moves the guess by", 0.02, "share", "less is not worth words"
)
CLASS_MEAN_VARIANCE = KEPT.choice(
    "variance of a class's own mean", 0.0100, "", "with the two before, the table's 0.15 squared"
)
RETURN_FROM_H = KEPT.figure(
    "most return comes in the first", 24, "h off the tree", Trust.COMMON_PRACTICE, "no source"
)
RETURN_TO_H = KEPT.figure(
    "or at the latest in", 36, "h off the tree", Trust.COMMON_PRACTICE, "no source"
)

FORECAST = Chapter("How many rounds")
POINTS = FORECAST.figure(
    "boots followed", 399, "", Trust.OUR_MODEL, "told and seen differ by under two points"
)
BASES = tuple(
    FORECAST.figure(
        "their luck is spread in base", base, "", Trust.PUBLISHED, "the first primes (Halton 1960)"
    )
    for base in (2, 3, 5, 7, 11, 13, 17)
)
LEAST_WEIGHT = FORECAST.choice(
    "a boot is followed while it is short with", 1e-4, "of its chance", "less changes no figure"
)
LEAST_LUCK = FORECAST.choice(
    "luck at the tape at least", 1e-12, "of all readings", "so that a reading is always a number"
)
HARDLY_ANY = FORECAST.choice(
    "no word on fitting where called done in under", 1e-9, "of cases", "nothing to divide by"
)
MOST_ROUNDS = FORECAST.choice("rounds looked ahead", 6, "rounds", "more is not offered")
PLANNED_ROUNDS = FORECAST.choice(
    "rounds agreed unless said", 4, "rounds", "about six weeks with week-long holds"
)
HOLD_H = FORECAST.figure(
    "hold unless said", 168.0, "h", Trust.COMMON_PRACTICE, "a week for the set to hold; no source"
)
HOLD_CHOICES_H = tuple(
    FORECAST.figure(
        "hold shown beside it",
        hold_h,
        "h",
        Trust.COMMON_PRACTICE,
        "two days, three days, a week; no source",
    )
    for hold_h in (48.0, 72.0, 168.0)
)
REST_H = FORECAST.figure(
    "rest before a reading counts",
    24,
    "h",
    Trust.COMMON_PRACTICE,
    "a day for the return to come; no source (ISO 2419 conditions test pieces, not boots)",
)
LONGEST_HOLD_H = FORECAST.choice(
    "longest hold that is read", 2000.0, "h", "twelve weeks; more is a typing error"
)
EIGHT_IN_TEN = FORECAST.choice(
    "the promised number of rounds holds in", 0.8, "share", "the second of the two dates"
)
DONE_ODDS = FORECAST.choice("a tier holds from", 0.5, "share", "more likely than not")
ROUTINE_ROUNDS = FORECAST.choice("routine: done within", 2, "rounds", "one or two rounds")
ABOUT_EVEN = FORECAST.choice("about even from", 0.4, "share", "four in ten")
PERHAPS = FORECAST.choice("a further number is named from", 0.1, "share", "one in ten")
TENTHS = FORECAST.choice("odds are said in", 10, "parts", "finer odds would pretend")
ODDS_SLACK = FORECAST.choice(
    "added before odds are rounded down", 1e-9, "", "so that a float never takes a tenth away"
)
SAID_AT_MOST = FORECAST.choice(
    "odds said at most", 9, "in 10", "until the class stands on ten of the shop's boots"
)
BOOTS_TO_TRUST = FORECAST.choice(
    "boots before a class stands on its own",
    10,
    "boots",
    "then its spread is the shop's, not the table's",
)
CASES_TO_TELL = FORECAST.choice(
    "cases before what the book learns is told", 10, "cases", "fewer say hardly anything"
)
INTERVAL_HOLDS = FORECAST.choice("an interval of the book holds", 0.95, "share", "the usual one")
KEPT_POOR = FORECAST.choice(
    "kept under, two rounds running: stop", 0.2, "share", "the leather gives and does not keep"
)
SMALL_GAIN_SDS = FORECAST.figure(
    "gain under what was expected by: stop",
    2.0,
    "standard deviations",
    Trust.OUR_MODEL,
    "3 false alarms in 100 after a first round, and 84 of 100 boots that keep nothing found",
)
AGAIN_SDS = FORECAST.figure(
    "a second rested reading, need within",
    2.0,
    "reading errors of the tolerance",
    Trust.OUR_MODEL,
    "done boots within an eighth: 79.4 % so, 78.9 % with one reading",
)

VERDICT = Chapter("The verdict")
FACING_STEPS_INCH = tuple(
    VERDICT.figure(
        "wider zip facing, each side",
        inch,
        "in",
        Trust.COMMON_PRACTICE,
        "what the trade lets in; no source",
    )
    for inch in (0.25, 0.5)
)
HOSIERY_STEP_MM = VERDICT.choice(
    "thinner hosiery, thickness saved", 0.5, "mm", "a breeches' or a sock's knit; from memory"
)

CAUTION = Chapter("Cautions")
DAMP_HEAT_C = CAUTION.choice("no heat on damp leather above", 45, "°C", "far under the next two")
VEGETABLE_SHRINKS_C = CAUTION.figure(
    "vegetable-tanned shrinks wet from",
    75,
    "°C",
    Trust.PUBLISHED,
    "Conservation Science, leather chapter, p. 95",
)
CHROME_SHRINKS_C = CAUTION.figure(
    "chrome-tanned shrinks wet from",
    100,
    "°C",
    Trust.PUBLISHED,
    "Conservation Science, leather chapter, p. 95",
)

CHAPTERS = (KEPT, FORECAST, VERDICT, CAUTION)
