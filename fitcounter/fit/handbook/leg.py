"""The handbook's figures for tape, leg and height: units, reading errors,
allowances, datums.

Standards and sources stand beside each number. Lengths are millimetres, shares are fractions of
one.
"""

from __future__ import annotations

from fractions import Fraction

from fitcounter.fit.handbook.figure import Chapter, Trust

ANSUR = "ANSUR II, 1,986 women and 4,082 men (NATICK/TR-15/007, 2014)"
BDIMS = "bdims, 260 women and 247 men (Heinz et al., J. Statistics Education 11(2), 2003)"

TAPE = Chapter("The tape")
MM_PER_INCH = TAPE.figure(
    "inch", Fraction(127, 5), "mm", Trust.STANDARD, "international yard and pound agreement, 1959"
)
MM_PER_CM = TAPE.figure("centimetre", Fraction(10), "mm", Trust.STANDARD, "SI")
MM_PER_MM = TAPE.figure("millimetre", Fraction(1), "mm", Trust.STANDARD, "SI")
UM_PER_MM = TAPE.figure("micrometres in a millimetre", 1000, "", Trust.STANDARD, "SI")
SIXTEENTHS = TAPE.figure(
    "parts of an inch shown",
    16,
    "",
    Trust.COMMON_PRACTICE,
    "the finest marks of a shop's tape; no source",
)
DENOMINATORS = tuple(
    TAPE.figure(
        "fraction of an inch read",
        part,
        "parts",
        Trust.COMMON_PRACTICE,
        "binary tape and rule marks; no source",
    )
    for part in (2, 4, 8, 16, 32, 64)
)
LONGEST_TEXT = TAPE.choice(
    "longest reading", 24, "characters", "the longest honest spelling is half of that"
)
MOST_WHOLE_DIGITS = TAPE.choice(
    "digits before the point", 4, "digits", "more is not a length of leg or boot in any unit"
)
THOUSANDS_BELOW_MM = TAPE.choice(
    "a comma before three digits may mean thousands below",
    127,
    "mm",
    "5 in: no shaft girth is smaller, so 1,625 is asked again",
)
THOUSANDS_DIGITS = TAPE.choice(
    "digits in a group of thousands", 3, "digits", "how thousands are grouped"
)
FLOAT_SLACK_MM = TAPE.choice(
    "taken off before rounding up", 1e-6, "mm", "so that a float never adds a sixteenth"
)
TIE = TAPE.choice(
    "differences that count as none", 1e-6, "", "far under any reading, far over a float's error"
)

READING = Chapter("Repeat readings and their doubt")
AGREE_MM = READING.choice(
    "two readings agree within",
    5.0,
    "mm",
    "simulated: asks a third in 13 % of cases with 3 % gross slips",
)
AGREE_CLOSE_MM = READING.choice(
    "the same at the small of the leg and on boots",
    3.2,
    "mm",
    "an eighth of an inch; both read finer",
)
LEG_READING_MM = READING.choice(
    "reading error of a leg",
    2.0,
    "mm",
    "1 standard deviation, from repeat studies of 3 to 5 mm limits",
)
TWO_READERS_MM = READING.figure(
    "beside it: two readers of a calf differ by",
    3.0,
    "mm on average",
    Trust.PUBLISHED,
    "Jamaiyah et al. 2008, 130 people (abstract read)",
)
BOOT_READING_MM = READING.choice(
    "reading error of a boot", 1.5, "mm", "1 standard deviation; a boot holds still"
)
FLAT_FACTOR = READING.figure(
    "a width laid flat counts",
    2,
    "times",
    Trust.STANDARD,
    "geometry: two walls, two widths to a girth",
)
RESOLUTION_INCH_MM = READING.figure(
    "resolution of an inch tape", 1.5875, "mm", Trust.COMMON_PRACTICE, "1/16 in marks; no source"
)
RESOLUTION_METRIC_MM = READING.figure(
    "resolution of a metric tape", 1.0, "mm", Trust.COMMON_PRACTICE, "1 mm marks; no source"
)
RESOLUTION_DIVISOR = READING.figure(
    "variance of a rounded reading", 12, "parts of res²", Trust.STANDARD, "JCGM 100:2008, 4.3.7"
)
LEVEL_MARKED_MM = READING.choice(
    "height error, level marked (always on boots)",
    1.0,
    "mm",
    "marked: 96 % agree within 6 mm (Tunc 2007)",
)
LEVEL_FOUND_MM = READING.choice(
    "height error, level not marked",
    8.0,
    "mm",
    "from landmarks 57 to 81 % agree within 6 mm (Tunc 2007): 3.2 to 5.4 mm of girth",
)
SLOPE_HALF_SPAN_MM = READING.choice(
    "half span of the slope", 2.5, "mm", "half a step of the heights that are evaluated"
)
GAP_READING_MM = READING.choice("doubt of a gap reading", 3.0, "mm", "edges held by hand")
LOOK_AGAIN_U = READING.choice(
    "need is tried at plus and minus", 2.0, "times its doubt", "about 95 %"
)
TOLERANCE_MM = READING.choice(
    "tolerance everywhere", 3.175, "mm", "1/8 in: inside reading error, never chased"
)

ALLOWANCE = Chapter("Allowances on the leg's girth")
MORNING = ALLOWANCE.choice(
    "read in the morning",
    0.013,
    "share",
    "calf volume +1.6 to 2.0 % in 10 min standing (EJAP 66:427, 1993)",
)
SWELLS_STANDING = ALLOWANCE.figure(
    "beside it: shank girth after standing still",
    0.0132,
    "share",
    Trust.PUBLISHED,
    "Lin, Applied Ergonomics 43:1033, 2012 (abstract read)",
)
SWELLS_SITTING = tuple(
    ALLOWANCE.figure(
        f"beside it: foot volume after 8 h seated, {moving}",
        share,
        "share",
        Trust.PUBLISHED,
        "Winkel, Ergonomics 1986 (abstract read)",
    )
    for moving, share in (("still", 0.048), ("moving some", 0.023), ("moving much", 0.008))
)
MIDDAY = ALLOWANCE.choice("read at midday", 0.006, "share", "about half of the morning's")
SEATED = ALLOWANCE.figure(
    "read seated",
    -0.012,
    "share",
    Trust.PUBLISHED,
    "+4.7 mm (KFACS, n = 1,439), +3.9 mm (ESPEN, n = 193)",
)
EASE = {
    word: ALLOWANCE.choice(
        f"ease, {word}",
        share,
        "share",
        "the trade disagrees: a field boot goes ½ in under, a casual boot ½ in over",
    )
    for word, share in {"snug": -0.02, "close": 0.0, "easy": 0.025, "roomy": 0.05}.items()
}

HEIGHT = Chapter("Heights and profiles")
PITCH_LENGTH_MM = HEIGHT.figure(
    "heel seat to ball",
    140.0,
    "mm",
    Trust.PUBLISHED,
    f"{ANSUR}; seat centre at 1/6 of the foot is our guess",
)
PITCH_ANKLE_UP_MM = HEIGHT.figure(
    "ankle above the seat", 65.0, "mm", Trust.PUBLISHED, f"{ANSUR}: lateral malleolus 62.7 and 72.9"
)
PITCH_ANKLE_FORWARD_MM = HEIGHT.choice(
    "ankle in front of the seat centre", 20.0, "mm", "1/12 of the foot's length; from memory"
)
HEIGHT_STEP_MM = HEIGHT.choice(
    "profiles are evaluated every", 5, "mm", "finer than any reading's height"
)
READ_ON_MM = HEIGHT.choice(
    "a boot is read far enough, within", 5.0, "mm", "one step of the heights that are evaluated"
)
TOP_WITHIN_MM = HEIGHT.choice(
    "a boot is read up to its top, within", 25.0, "mm", "an inch: the tape lies under the top line"
)
FEW_STATIONS = HEIGHT.choice(
    "straight lines up to",
    3,
    "readings",
    "with three readings a smooth curve errs more than a straight one",
)
END_SLOPE_CAP = HEIGHT.figure(
    "end slope at most",
    3,
    "first secants",
    Trust.PUBLISHED,
    "Fritsch and Carlson 1980, SciPy's end rule",
)
WIDEST_GAP_MM = HEIGHT.choice(
    "heights of a full profile at most",
    80.0,
    "mm apart",
    "3 in: beyond, interpolation errs more than the tape",
)
WALLS_FLAT = HEIGHT.figure(
    "walls in a girth read flat",
    4,
    "walls",
    Trust.STANDARD,
    "geometry: two layers, both sides of the fold",
)

CHAPTERS = (TAPE, READING, ALLOWANCE, HEIGHT)
