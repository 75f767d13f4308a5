"""Three words for a boot, and the guesses behind them: what a class of leather is usually like
until somebody measures.

The guesses are the handbook's (fit.handbook_leather, shop's choice or from memory) or the shop's
own; each screen says that they are guesses.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.handbook import leather as book
from fitcounter.fit.handbook.leather import Leather

LEATHERS = {
    "supple-full-grain": "supple, smooth (calf, nappa)",
    "full-grain": "full-grain cowhide",
    "firm-full-grain": "firm, box calf",
    "oiled": "oiled, waxed, pull-up",
    "nubuck": "nubuck",
    "split-suede": "suede",
    "goat": "goat, kid",
    "sheep": "sheep, lamb",
    "corrected-grain": "heavy finish, corrected grain",
    "vegetable-tanned": "vegetable-tanned, bridle",
    "unknown": "leather, not sure which",
    "exotic": "ostrich, reptile, fish",
    "coated": "patent or coated",
    "synthetic": "not leather (synthetic)",
}
CLOSURES = {"zip": "zip", "pull-on": "pull-on", "laces": "laces", "straps": "straps"}
LININGS = {"leather": "leather", "textile": "cloth", "fleece": "fleece", "none": "unlined"}
ZIP_FROM_UM = 60_000  # a zip usually begins at the ankle; from memory
ZIP_TO_UM = 900_000  # and runs to the top line, wherever that is


@dataclass(frozen=True, slots=True)
class Guess:
    """What is taken where nothing was measured, in micrometres."""

    thickness_um: int
    lining_um: int
    wall_um: int
    zip_band_um: int


def guess(leather: Leather, lining: str) -> Guess:
    """The usual upper of the class, the usual lining, both together, the usual zip with its
    tapes.
    """
    low, high = leather.thickness_mm
    thickness = round((low + high) / 2 * 1000)
    inner = 0 if lining == "none" else round(book.LINING_MM * 1000)
    return Guess(thickness, inner, thickness + inner, round(book.ZIP_BAND_MM * 1000))
