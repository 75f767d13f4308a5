"""The handbook's figures for leather: limits by class, what narrows them, a boot nobody measured.

All limits are the shop's choice, editable, each with its reason. Strains are fractions of the
leather part; lengths are millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

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
        10,
        17,
        0.50,
        0.25,
        (1.0, 1.4),
        "new, it bears 15 % in a ball test",
    ),
    (
        "full-grain",
        "full-grain cowhide, milled side",
        4,
        7,
        14,
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
        "scales and quills hinge and crack: only with the owner's approval",
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


class _Judged(NamedTuple):
    """One line of the table above: limits in percent, then as in Leather."""

    code: str
    name: str
    routine: float
    most: float
    ceiling: float
    kept: float
    strain_10mpa: float
    thickness_mm: tuple[float, float]
    why: str


def _row(judged: _Judged) -> Leather:
    name, why = judged.name, judged.why

    def share(key: str, value: float, reason: str) -> float:
        return LIMITS.choice(figure_name(name, key), value, "share", reason)

    kept_reason = "no published kept fraction for boot shafts; the shop's own rounds correct it"
    return Leather(
        judged.code,
        name,
        share("routine", judged.routine / 100, why),
        share("round", judged.most / 100, why),
        share("ceiling", judged.ceiling / 100, why),
        share("kept_mean", judged.kept, kept_reason),
        share("kept_sd", 0.15, kept_reason),
        share(
            "strain_10mpa", judged.strain_10mpa, "judged from handling; the curve is an estimate"
        ),
        _thickness(name, judged.thickness_mm),
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
    for row in (
        *(_row(_Judged(*row)) for row in _ROWS),
        *(_refused_row(*row) for row in _REFUSED_ROWS),
    )
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
CAREFUL_GIRTH_MM, CAREFUL_SOFT_MM, CAREFUL_FIRM_MM = (
    LIMITS.figure(name, mm, "mm", Trust.OUR_MODEL, "a leather-lined boot with a zip, four rounds")
    for name, mm in (
        ("what careful refuses is told of a boot of", 368.3),
        ("careful says panel, and usual does not, soft leather, from", 30.1625),
        ("careful says panel, and usual does not, firm leather, from", 15.875),
    )
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
LOOK_AT_GRAIN = LIMITS.choice(
    "look at the grain at every turn from", 0.15, "share", "the ball test strains new leather so"
)
SPRINGS_BACK = LIMITS.choice(
    "mostly springs back under", 0.02, "share", "so little is hardly past what leather gives back"
)
LOW_PLACE_MM = LIMITS.choice("few trees open under", 150.0, "mm", "the stem of a tree is there")
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

CHAPTERS = (LIMITS, DEFAULTS)
