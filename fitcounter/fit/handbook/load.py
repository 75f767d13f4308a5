"""The handbook's figures for the pull on zips and seams: the curve of stress, and strengths.

Strains are fractions of the leather part; stresses are MPa, tensions N/mm.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust

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
WORN_ZIP = LOAD.choice(
    "a worn zip has, of its strength", 0.5, "share", "teeth and tapes have been pulled for years"
)
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

CHAPTERS = (LOAD,)
