"""What may be seen on a boot at the counter, in the words of the counter, and what each finding
does.

The words that refuse or change a limit are those of fit.materials; any other word is shown and has
no effect.
"""

from __future__ import annotations

from dataclasses import dataclass


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
        Sight("zip-worn", "zip worn or stiff", zip_state="worn"),
        Sight("zip-damaged", "zip damaged, teeth or tape", zip_state="damaged"),
        Sight("open-seam", "a seam is open"),
        Sight("elastic-tired", "elastic tired"),
        Sight("scuffs", "scuffs or marks"),
        Sight("stain", "stain or tide mark"),
        Sight("dye-rub", "colour rubs off"),
        Sight("worn-lining", "lining worn or torn"),
        Sight("dry-leather", "dry, or over ten years old", age="dry-or-old"),
        Sight("prior-stretch", "stretched before"),
        Sight("loose-heel", "heel or sole loose"),
        Sight("heel-worn", "heel worn"),
        Sight("sole-thin", "sole worn thin"),
        Sight("cracked-grain", "cracks in the grain"),
        Sight("cracked-finish", "cracked finish"),
        Sight("red-rot", "leather powders (red rot)"),
        Sight("delaminated", "lining comes away"),
    )
}


def say(word: str) -> str:
    """A finding in the words of the counter; a word of the bench's own as it is."""
    return SIGHTS[word].words if word in SIGHTS else word.replace("-", " ")
