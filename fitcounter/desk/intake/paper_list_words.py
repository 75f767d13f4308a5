"""The words of a paper list: what is on a job and where it stands, as a counter writes them
down.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput
from fitcounter.fit.item_states import WORDS

BOTH = ("left", "right")
MOST_WORDS = 80
MOST_THINGS = 8
# Each a list of what is understood, in English and in the language spoken just now.
KINDS = {
    "boot": marked("boot, boots, pair"),
    "bag": marked("bag, bags, handbag, satchel, purse"),
    "belt": marked("belt, belts"),
    "glove": marked("glove, gloves"),
    "shoe": marked("shoe, shoes, brogues, loafers, pumps, sandals, heels"),
}
PLACES = {
    "queued": marked("bench, queue, waiting, counter"),
    "prepared": marked("prepared"),
    "resting": marked("resting, off the tree"),
    "to-decide": marked("to decide"),
    "finishing": marked("finishing"),
    "finished": marked("finished"),
    "shelved": marked("ready, shelf"),
}
SIDES = {"left": marked("left, left-hand"), "right": marked("right, right-hand")}
STRETCH = marked("stretch, stretching")
SHELF = marked("shelf, on shelf")
TREES = marked("tree, trees, on tree, on trees")
AND = marked("and, &")
WHERE = marked(
    "Type where: shelf C2, tree 4 and 9, bench, prepared, resting, finishing, finished; or nothing."
)


class Piece(NamedTuple):
    """One thing other than boots to be stretched: its kind, what it looks like, its job."""

    kind: str
    description: str
    jobs: str


class What(NamedTuple):
    """sides: of the boots to be stretched, empty for none. looks: what they are told by."""

    sides: tuple[str, ...]
    looks: str
    pieces: tuple[Piece, ...]

    @property
    def words(self) -> str:
        """As it was understood: both boots to stretch; bag: new zipper."""
        boots = [_boots(self.sides)] if self.sides else []
        return "; ".join(
            boots
            + [f"{say(one.kind)}: {one.jobs}" if one.jobs else say(one.kind) for one in self.pieces]
        )


class Where(NamedTuple):
    """state: of the boots; a thing of another kind is on the shelf or waits.

    trees: labels, left first.
    """

    state: str
    shelf: str = ""
    trees: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        if self.trees:
            if len(self.trees) == 1:
                return say("on tree {tree}", tree=self.trees[0])
            return say("on trees {left} and {right}", left=self.trees[0], right=self.trees[1])
        return (
            say("ready, shelf {shelf}", shelf=self.shelf) if self.shelf else say(WORDS[self.state])
        )


def terms(words: str) -> tuple[str, ...]:
    """What a list of words holds in English and in the language spoken just now, longest first."""
    both = f"{words},{say(words)}".casefold().split(",")
    return tuple(sorted({one.strip() for one in both if one.strip()}, key=len, reverse=True))


def read_what(typed: str) -> What:
    """boots + bag: new zipper.

    Things are set apart by + or ;, a thing and its job by a colon. Raises BadInput.
    """
    parts = [part.strip() for part in re.split(r"[+;]", typed) if part.strip()]
    if not parts:
        raise BadInput(
            say("Type what is here, like boots, left boot, or boots + bag: new zipper."),
            typed=typed,
        )
    if len(parts) > MOST_THINGS:
        raise BadInput(
            say("One line holds {most} items. Put the rest on a new line.", most=MOST_THINGS),
            typed=typed,
        )
    sides: tuple[str, ...] = ()
    looks, pieces = "", []
    for part in parts:
        name, _, job = (one.strip() for one in part.partition(":"))
        if len(name) > MOST_WORDS or len(job) > MOST_WORDS:
            raise BadInput(
                say("Shorten each item and its work to {most} characters.", most=MOST_WORDS),
                typed=part,
            )
        if not name:
            raise BadInput(
                say("Type the item before its work, like bag: new zipper."),
                typed=part,
            )
        kind = _kind(name)
        stretched = any(word in job.casefold() for word in terms(STRETCH))
        if kind == "boot" and (not job or stretched):
            if sides:
                raise BadInput(
                    say("One line holds one pair to stretch. Put the second on a new line."),
                    typed=typed,
                )
            sides, looks = _sides(name), name
        else:
            pieces.append(Piece(kind, name, job))
    return What(sides, looks, tuple(pieces))


def read_where(typed: str, what: What, shelves: tuple[str, ...]) -> Where:
    """shelf C2, tree 4 and 9, or a place along the way. Raises BadInput."""
    text = " ".join(typed.split())
    if shelf := _after(SHELF, text, 12):
        return Where("shelved", shelf)
    if text and text in shelves:
        return Where("shelved", text)
    if trees := _after(TREES, text, 40):
        return Where("on-tree", "", _trees(trees, what))
    state = _state(text.casefold())
    if state is None:
        raise BadInput(say(WHERE), typed=typed)
    return Where(state if what.sides or state == "shelved" else "queued")


def _boots(sides: tuple[str, ...]) -> str:
    if len(sides) == 2:
        return say("both boots to stretch")
    return say("left boot to stretch") if sides[0] == "left" else say("right boot to stretch")


def _kind(name: str) -> str:
    words = re.findall(r"[^\W\d_]+", name.casefold())
    known = {term: kind for kind, words in KINDS.items() for term in terms(words)}
    return next((known[word] for word in words if word in known), "other")


def _sides(name: str) -> tuple[str, ...]:
    words = set(name.casefold().split())
    return next(((side,) for side in BOTH if words & set(terms(SIDES[side]))), BOTH)


def _state(text: str) -> str | None:
    """The state that a place's own word or the house's sentence of it names."""
    if not text:
        return "queued"
    for state, words in PLACES.items():
        if text in (*terms(words), WORDS[state].casefold(), say(WORDS[state]).casefold()):
            return state
    return None


def _after(words: str, text: str, most: int) -> str:
    """What follows one of the words: "C2" of shelf C2; "" where none begins the text."""
    either = "|".join(map(re.escape, terms(words)))
    found = re.fullmatch(rf"(?:{either})[ :]+(.{{1,{most}}})", text, flags=re.IGNORECASE)
    return found[1].strip() if found else ""


def _trees(typed: str, what: What) -> tuple[str, ...]:
    between = "|".join(rf"\s{re.escape(word)}\s" for word in terms(AND))
    parts = re.split(rf"[,/&]|{between}", typed.strip(), flags=re.IGNORECASE)
    labels = tuple(one.strip() for one in parts if one.strip())
    if not what.sides:
        raise BadInput(
            say("Only boots go on a tree. Type where this is, like shelf C2 or bench."),
            typed=typed,
        )
    if len(labels) != len(what.sides):
        raise BadInput(
            say("Type both trees, left first, like tree 4 and 9.")
            if len(what.sides) == 2
            else say("Type one tree, like tree 4."),
            typed=typed,
        )
    return labels
