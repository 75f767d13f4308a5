"""The handbook's figures for leather, seams and zips: limits by class, the curve of stress,
strengths, anchors.

All limits are the shop's choice, editable, each with its reason. Strains are fractions of the
leather part; lengths are millimetres, stresses MPa, tensions N/mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.handbook.figure import Chapter, Trust


@dataclass(frozen=True, slots=True)
class Leather:
    """One row of the table of limits, at the dial's "usual".

    routine: strain of one or two usual rounds; round: most in one opening; ceiling: most on the
    tree, ever; kept_mean and
    kept_sd: the kept fraction after 24 h; strain_10mpa: strain at 10 MPa; refused: no stretching
    whatever the strain.
    """

    code: str
    name: str
    routine: float
    round: float
    ceiling: float
    kept_mean: float
    kept_sd: float
    strain_10mpa: float
    thickness_mm: tuple[float, float]
    reason: str
    refused: bool = False


LIMITS = Chapter("Limits by leather")
# What the figures of a row are called in the book, after the name of the leather.
FIGURES = {
    "routine": "routine",
    "round": "one round",
    "ceiling": "ceiling",
    "kept_mean": "kept after 24 h",
    "kept_sd": "its standard deviation",
    "strain_10mpa": "strain at 10 MPa",
    "thickness_from_mm": "thickness from",
    "thickness_to_mm": "thickness to",
}

_ROWS = (
    (
        "supple-full-grain",
        "supple full grain (calf, nappa cow)",
        4,
        8,
        13,
        0.50,
        0.25,
        (1.0, 1.4),
        "new, it bears 15 % in a ball test",
    ),
    (
        "full-grain",
        "full-grain cowhide, milled side",
        4,
        6,
        12,
        0.50,
        0.20,
        (1.2, 2.0),
        "new, it bears 15 % in a ball test",
    ),
    (
        "firm-full-grain",
        "firm full grain, box calf",
        3,
        4,
        8,
        0.45,
        0.16,
        (1.2, 2.2),
        "a tight grain marks first",
    ),
    ("oiled", "oiled, waxed, pull-up", 4, 6, 10, 0.45, 0.20, (1.6, 2.4), "the colour moves"),
    (
        "nubuck",
        "nubuck, grain suede",
        4,
        6,
        11,
        0.50,
        0.22,
        (1.2, 1.8),
        "the sanded grain is weaker",
    ),
    ("split-suede", "split suede", 3, 4, 7, 0.45, 0.22, (1.0, 1.6), "no grain to hold it"),
    ("goat", "goat, kid", 4, 5, 9, 0.50, 0.22, (0.6, 1.0), "thin: look at the stitch holes"),
    (
        "sheep",
        "sheep, lamb nappa",
        3,
        4,
        7,
        0.45,
        0.30,
        (0.7, 1.1),
        "tears at a third of cowhide's load",
    ),
    (
        "corrected-grain",
        "corrected grain, heavy pigment",
        2,
        3,
        5,
        0.40,
        0.16,
        (1.2, 1.8),
        "the finish cracks first",
    ),
    (
        "vegetable-tanned",
        "vegetable-tanned, bridle",
        2,
        3,
        5,
        0.50,
        0.15,
        (2.0, 3.0),
        "stiff, and no heat helps",
    ),
    (
        "unknown",
        "unknown leather",
        2,
        2.5,
        5,
        0.35,
        0.20,
        (1.2, 1.8),
        "taken as the weakest plausible",
    ),
    (
        "exotic",
        "ostrich, reptile, fish",
        0,
        1,
        2,
        0.35,
        0.15,
        (0.6, 1.2),
        "scales and quills hinge and crack: master's sign-off",
    ),
)
_REFUSED_ROWS = (
    (
        "coated",
        "patent, foil, coated leather",
        (1.0, 1.4),
        "the film cracks, and the grain cracks under it",
    ),
    (
        "synthetic",
        "synthetic, bonded",
        (0.8, 1.4),
        "may break at 7 % (a buyer's specification) and keeps nothing",
    ),
)


def figure_name(leather: str, key: str) -> str:
    """The name of one figure in the book. leather: the name of its row; key: of FIGURES."""
    return f"{leather}: {FIGURES[key]}"


def _row(
    code: str,
    name: str,
    routine: float,
    most: float,
    ceiling: float,
    kept: float,
    e10: float,
    thick: tuple[float, float],
    why: str,
) -> Leather:
    def share(key: str, value: float, reason: str) -> float:
        return LIMITS.choice(figure_name(name, key), value, "share", reason)

    kept_reason = "no published kept fraction for boot shafts; the shop's own rounds correct it"
    return Leather(
        code,
        name,
        share("routine", routine / 100, why),
        share("round", most / 100, why),
        share("ceiling", ceiling / 100, why),
        share("kept_mean", kept, kept_reason),
        share("kept_sd", 0.15, kept_reason),
        share("strain_10mpa", e10, "judged from handling; the curve is an estimate"),
        _thickness(name, thick),
        why,
    )


def _refused_row(code: str, name: str, thick: tuple[float, float], why: str) -> Leather:
    return Leather(
        code, name, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, _thickness(name, thick), why, refused=True
    )


def _thickness(name: str, thick: tuple[float, float]) -> tuple[float, float]:
    low, high = (
        LIMITS.choice(figure_name(name, key), mm, "mm", "from memory")
        for key, mm in zip(("thickness_from_mm", "thickness_to_mm"), thick, strict=True)
    )
    return low, high


LEATHERS = {
    row.code: row
    for row in (*(_row(*row) for row in _ROWS), *(_refused_row(*row) for row in _REFUSED_ROWS))
}

# What narrows the limits of every leather, by its name in the book.
FACTORS = {
    "cloth_lining": "textile or fleece lining, limits times",
    "dry_or_old": "dry or over ten years, limits times",
    "prior_stretch": "stretched before, first girth unknown, ceiling times",
    "careful": "careful, limits times",
}
CLOTH_LINING_FACTOR = LIMITS.choice(
    FACTORS["cloth_lining"], 0.75, "", "a woven lining hardly grows"
)
DRY_OR_OLD_FACTOR = LIMITS.choice(
    FACTORS["dry_or_old"], 0.5, "", "old leather has lost its fat and its stretch"
)
PRIOR_STRETCH_FACTOR = LIMITS.choice(FACTORS["prior_stretch"], 0.5, "", "half of it may be used up")
CAREFUL_FACTOR = LIMITS.choice(
    FACTORS["careful"], 0.5, "", "published rules and staged practice differ two to three times"
)
MOST_OWN_STRAIN = LIMITS.choice(
    "a shop may set its limits up to", 0.20, "share", "more than the ball test strains new leather"
)
TOO_LITTLE_LEATHER = LIMITS.choice(
    "too little leather to stretch under", 0.30, "share", "the rest of the girth does not give"
)
LEAST_LEATHER_MM = LIMITS.choice(
    "least leather part that is counted", 1.0, "mm", "so that a strain is always a number"
)
ELASTIC_YIELD = LIMITS.choice(
    "live elastic yields, of its rest width",
    0.25,
    "share",
    "under a gentle pull; said, never counted as growth",
)

DEFAULTS = Chapter("A boot nobody has measured")
THICKNESS_MM = DEFAULTS.choice("upper", 1.4, "mm", "a common shaft; from memory")
LINING_MM = DEFAULTS.choice("lining", 0.8, "mm", "a common lining; from memory")
WALL_MM = DEFAULTS.choice("wall", 2.2, "mm", "upper and lining together")
ZIP_BAND_MM = DEFAULTS.choice("zip with its tapes", 30.0, "mm", "25 to 35 mm; from memory")

LOAD = Chapter("Load on zip and seams")
CURVE_MPA = LOAD.choice(
    "scale of the stress curve, A",
    0.6,
    "MPa",
    "gives the secant moduli that upper leathers show; an estimate",
)
CURVE_EXPONENT_MOST = LOAD.choice(
    "exponent of the curve at most", 700.0, "", "long past tearing; a float ends at e^709"
)
CURVE_POINT_MPA = LOAD.figure(
    "stress the curve is fixed at",
    10.0,
    "MPa",
    Trust.PUBLISHED,
    "elongation at 10 N/mm² is a common leather test",
)
LINING_STRAIN_10MPA = LOAD.choice(
    "leather lining, strain at 10 MPa",
    0.30,
    "share",
    "softer than the upper; QB/T 2680 allows up to 0.55",
)
_ZIP_SOURCE = (
    "end-use code C of BS 3084:2006 / EN 16732 as quoted by a buyer's sheet; footwear belongs to D"
    " and E"
)
ZIP_LATERAL_N = LOAD.figure(
    "lateral strength of a zip", 250.0, "N per 25 mm", Trust.PUBLISHED, _ZIP_SOURCE
)
ZIP_JAW_MM = LOAD.figure("width of the jaw", 25.0, "mm", Trust.PUBLISHED, _ZIP_SOURCE)
ZIP_WATCH = LOAD.choice(
    "zip: watch above", 1 / 5, "of its strength", "a lasting load, not a test pull"
)
ZIP_HOLD = LOAD.choice(
    "zip: hold here above",
    1 / 3,
    "of its strength",
    "closing under side pull is a failure of its own (ISO 18403)",
)
SEAM_N_PER_MM = LOAD.figure(
    "strength of a seam",
    5.0,
    "N/mm",
    Trust.PUBLISHED,
    "reduced guideline for slippers, SATRA TM180:2016",
)
SEAM_WATCH = LOAD.choice(
    "seam: watch above", 0.4, "of its strength", "the guideline is already a low one"
)
SEAM_HOLD = LOAD.choice(
    "seam: hold here above", 2 / 3, "of its strength", "the guideline is already a low one"
)
SAME_STRAIN = LOAD.choice(
    "strains that count as the same",
    1e-9,
    "",
    "so that a float's error never moves the tightest place",
)
SOLVED_WITHIN = LOAD.choice(
    "a strain is solved to within", 1e-12, "", "far under anything a tape shows"
)

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

CHAPTERS = (LIMITS, DEFAULTS, LOAD, ANCHORS)
