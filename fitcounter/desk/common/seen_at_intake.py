"""What may be seen on a boot at the counter, in the words of the counter, and what each finding
does.

The words that refuse or change a limit are those of fit.materials; any other word is shown and has
no effect.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common import translation
from fitcounter.desk.common.translation import marked


class Sight(NamedTuple):
    """word: as stored.

    words: on screens and papers. zip_state, age: what it says about the boot, '' where nothing.
    """

    word: str
    words: str
    zip_state: str = ""
    age: str = ""


# The faults come first, called and ordered as at the bench (`desk/bench/damage_seen_at_bench.py`).
SIGHTS = {
    one.word: one
    for one in (
        Sight("cracked-grain", marked("leather cracked")),
        Sight("open-seam", marked("seam split")),
        Sight("zip-damaged", marked("zipper off its teeth, or torn out"), zip_state="damaged"),
        Sight("zip-gapes", marked("zipper gaping"), zip_state="damaged"),
        Sight("elastic-tired", marked("elastic perished, torn or loose")),
        Sight("lining-torn", marked("lining torn")),
        Sight("sole-wave", marked("wave above the sole")),
        Sight("stain", marked("stain or tide mark")),
        Sight("other-damage", marked("other damage: say where")),
        Sight("zip-worn", marked("zipper worn or stiff"), zip_state="worn"),
        Sight("scuffs", marked("scuffs or marks")),
        Sight("dye-rub", marked("color rubs off")),
        Sight("worn-lining", marked("lining worn")),
        Sight("dry-leather", marked("dry, or over ten years old"), age="dry-or-old"),
        Sight("prior-stretch", marked("stretched before")),
        Sight("loose-heel", marked("heel or sole loose")),
        Sight("heel-worn", marked("heel worn")),
        Sight("sole-thin", marked("sole worn thin")),
        Sight("cracked-finish", marked("cracked finish")),
        Sight("red-rot", marked("leather turns to powder (red rot)")),
        Sight("delaminated", marked("lining coming off")),
    )
}


# What only stretching does to a boot, as the bench sees it.
OF_STRETCHING = {
    "grain-whitening": marked("grain turning white"),
    "stitch-holes": marked("stitch holes opening"),
}
_OWN_WORDS = frozenset((*(one.words for one in SIGHTS.values()), *OF_STRETCHING.values()))


def what_happened(noted: str) -> str:
    """What went wrong, in the language spoken just now where it is a fault of the lists; what was
    typed as it is.
    """
    return translation.say(noted) if noted in _OWN_WORDS else noted


def say(word: str) -> str:
    """A finding in our English, as the catalogue knows it; a word of the bench's own as it is."""
    return SIGHTS[word].words if word in SIGHTS else word.replace("-", " ")
