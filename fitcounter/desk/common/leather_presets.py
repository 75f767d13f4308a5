"""Three words for a boot, and the guesses behind them: what a class of leather is usually like
until somebody measures.

The guesses are the handbook's (fit.handbook_leather, shop's choice or from memory) or the shop's
own; each screen says that they are guesses.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common.translation import marked
from fitcounter.fit.handbook import leather as book
from fitcounter.fit.handbook.leather import Leather

LEATHERS = {
    "supple-full-grain": marked("supple, smooth (calf, nappa)"),
    "full-grain": marked("full-grain cowhide"),
    "firm-full-grain": marked("firm, box calf"),
    "oiled": marked("oiled, waxed, pull-up"),
    "nubuck": marked("nubuck"),
    "split-suede": marked("suede"),
    "goat": marked("goat, kid"),
    "sheep": marked("sheep, lamb"),
    "corrected-grain": marked("heavy finish, corrected grain"),
    "vegetable-tanned": marked("vegetable-tanned, bridle"),
    "unknown": marked("leather, not sure which"),
    "exotic": marked("ostrich, reptile, fish"),
    "coated": marked("patent or coated"),
    "synthetic": marked("not leather (synthetic)"),
}
CLOSURES = {
    "zip": marked("zipper"),
    "pull-on": marked("pull-on"),
    "laces": marked("laces"),
    "straps": marked("straps"),
}
LININGS = {
    "leather": marked("leather"),
    "textile": marked("cloth"),
    "fleece": marked("fleece"),
    "none": marked("unlined"),
}
ZIP_FROM_UM = 60_000  # a zip usually begins at the ankle; from memory
ZIP_TO_UM = 900_000  # and runs to the top line, wherever that is


class Guess(NamedTuple):
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
