"""How far the boots of a ticket have come, in sentences."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from fitcounter.desk.common.translation import Speech, marked
from fitcounter.fit.tape import say_inches, say_length
from fitcounter.store import rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Store
from fitcounter.store.records import Item

GAVE = {
    "left": marked("Your left boot gave {size}."),
    "right": marked("Your right boot gave {size}."),
}
GAVE_OF_TWO = {  # where there are two boots of a side, told apart by the shop's words for them
    "left": marked("Your left boot ({words}) gave {size}."),
    "right": marked("Your right boot ({words}) gave {size}."),
}


def what_boots_did(store: Store, things: Sequence[Item], unit: str, words: Speech) -> list[str]:
    """'Your left boot gave 9/16 in.': from the first reading before a round to the last rested one
    that counts.
    """
    sentences, sides = [], Counter(one.side for one in things if one.kind == "boot")
    for item in things:
        grew_mm = _grew_mm(rounds.of_item(store, item.id))
        if grew_mm > 0:
            size = (
                _size(grew_mm, words) if unit == "in" else words.decimals(say_length(grew_mm, unit))
            )
            which = GAVE_OF_TWO if sides[item.side] > 1 and item.description else GAVE
            said = words.say(which[item.side or "right"], size=size, words=item.description)
            sentences.append(said)
    return sentences


def _size(length_mm: float, words: Speech) -> str:
    """3/8 in, 1 3/8 in; in other languages a part of an inch may need other words than some."""
    inches = say_inches(length_mm)
    if inches == "1":
        return words.say("1 in")
    if not inches[0].isdecimal() or ("/" in inches and " " not in inches):  # ¼, 3/16
        return words.say("{fraction} in", fraction=inches)
    return words.say("{inches} in", inches=inches)


def _grew_mm(bench_rounds: Sequence[Round]) -> float:
    """By how much the girth grew; 0 where no rested reading counts, or the method changed."""
    measured = [each for each in bench_rounds if each.before_um is not None]
    counted = [each for each in measured if each.rested_um is not None and each.rested_counts]
    if not counted or counted[-1].rested_method not in ("", measured[0].method):
        return 0
    grew_um = (counted[-1].rested_um or 0) - (measured[0].before_um or 0)
    around = 2 if measured[0].method == "flat" else 1  # laid flat, the tape reads half the girth
    return around * grew_um / 1000
