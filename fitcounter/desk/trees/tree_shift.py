"""How much higher or lower a tree sits in a boot than usual: as it is picked, and said."""

from __future__ import annotations

from fitcounter.desk.common.lengths import say_length, say_room
from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput, BadReading
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.handbook.shop import SHIFT_MOST_MM
from fitcounter.fit.tape import parse_length
from fitcounter.fit.trees.serving import Tree
from fitcounter.store.bench_records import TreeRow


def shift_words(shift_mm: float, unit: str) -> str:
    """ "½ in higher", "2.0 cm lower"; "" where it sits as usual."""
    if not shift_mm:
        return ""
    length = say_length(abs(shift_mm), unit)
    if shift_mm > 0:
        return say("{length} higher", length=length)
    return say("{length} lower", length=length)


def shift_choices(unit: str) -> dict[str, str]:
    """What can be picked, in micrometres, from the highest down; unit: the shop's."""
    shifts = Tree("", "either", None, shift_most_mm=SHIFT_MOST_MM).shifts_mm(unit)
    return {
        str(round(mm * UM_PER_MM)): shift_words(mm, unit) or say("as usual")
        for mm in sorted(shifts, reverse=True)
    }


def read_shift_um(picked: str, tree: TreeRow | None) -> int:
    """The shift that was picked, in micrometres; 0 where none was.

    Raises BadInput where there is no such shift, or the tree may not sit so.
    """
    if picked.strip() in ("", "0"):
        return 0
    digits = picked.strip().removeprefix("-")
    most_um = tree.shift_most_um if tree else 0
    if not (digits.isascii() and digits.isdigit()) or len(digits) > 6:
        raise BadInput(say("Pick how high the tree sits from the list."), field="shift")
    um = int(picked)
    if abs(um) > most_um:
        raise BadInput(
            say("This tree may not sit so far up or down. Pick less, or change it under Trees."),
            typed=picked,
            field="shift",
        )
    return um


def read_most_um(typed: str, unit: str) -> int:
    """How far a tree may sit higher or lower, in micrometres; 0 where nothing is typed.

    Raises BadReading.
    """
    if not typed.strip():
        return 0
    most = parse_length(typed, unit, "shift_most", zero_ok=True)
    if most.float_mm > SHIFT_MOST_MM:
        sentence = say(
            "At most {length}: further up or down it would not sit in the shaft.",
            length=say_room(SHIFT_MOST_MM, unit),
        )
        raise BadReading(sentence, typed=typed, field="shift_most")
    return most.um
