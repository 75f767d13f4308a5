"""What may be seen on a boot at the counter, in the words of the counter, and what each finding
does.

The words that refuse or change a limit are those of fit.materials; any other word is shown and has
no effect.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.desk.common.translation import marked


@dataclass(frozen=True, slots=True)
class Sight:
    """word: as stored.

    words: on screens and papers. zip_state, age: what it says about the boot, '' where nothing.
    """

    word: str
    words: str
    zip_state: str = ""
    age: str = ""


SIGHTS = {
    one.word: one
    for one in (
        Sight("zip-worn", marked("zipper worn or stiff"), zip_state="worn"),
        Sight("zip-damaged", marked("zipper damaged, teeth or tape"), zip_state="damaged"),
        Sight("open-seam", marked("open seam")),
        Sight("elastic-tired", marked("worn-out elastic")),
        Sight("scuffs", marked("scuffs or marks")),
        Sight("stain", marked("stain or tide mark")),
        Sight("dye-rub", marked("color rubs off")),
        Sight("worn-lining", marked("lining worn or torn")),
        Sight("dry-leather", marked("dry, or over ten years old"), age="dry-or-old"),
        Sight("prior-stretch", marked("stretched before")),
        Sight("loose-heel", marked("heel or sole loose")),
        Sight("heel-worn", marked("heel worn")),
        Sight("sole-thin", marked("sole worn thin")),
        Sight("cracked-grain", marked("cracks in the grain")),
        Sight("cracked-finish", marked("cracked finish")),
        Sight("red-rot", marked("leather turns to powder (red rot)")),
        Sight("delaminated", marked("lining coming off")),
    )
}


def say(word: str) -> str:
    """A finding in our English, as the catalogue knows it; a word of the bench's own as it is."""
    return SIGHTS[word].words if word in SIGHTS else word.replace("-", " ")
