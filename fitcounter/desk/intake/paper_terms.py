"""The words of a paper list: what is on a job and where it stands, as a counter writes them
down.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput
from fitcounter.fit.item_states import WORDS

BOTH = ("left", "right")
MOST_WORDS = 80
MOST_THINGS = 8
KINDS = {
    "boot": "boot",
    "boots": "boot",
    "pair": "boot",
    "bag": "bag",
    "bags": "bag",
    "handbag": "bag",
    "satchel": "bag",
    "purse": "bag",
    "belt": "belt",
    "belts": "belt",
    "glove": "glove",
    "gloves": "glove",
    "shoe": "shoe",
    "shoes": "shoe",
    "brogues": "shoe",
    "loafers": "shoe",
    "pumps": "shoe",
    "sandals": "shoe",
    "heels": "shoe",
}
PLACES = {
    "": "queued",
    "bench": "queued",
    "queue": "queued",
    "waiting": "queued",
    "counter": "queued",
    "prepared": "prepared",
    "resting": "resting",
    "off the tree": "resting",
    "to decide": "to-decide",
    "finishing": "finishing",
    "finished": "finished",
    "ready": "shelved",
    "shelf": "shelved",
    **{WORDS[state]: state for state in ("queued", "prepared", "to-decide", "finishing")},
}
_SHELF = re.compile(r"(?i)shelf[ :]+(.{1,12})")
_TREES = re.compile(r"(?i)(?:on )?trees?[ :]+(.{1,40})")
WHERE = marked(
    "Type where: shelf C2, tree 4 and 9, bench, prepared, resting, finishing, finished; or nothing."
)


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing other than boots to be stretched: its kind, what it looks like, its job."""

    kind: str
    description: str
    jobs: str


@dataclass(frozen=True, slots=True)
class What:
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


@dataclass(frozen=True, slots=True)
class Where:
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
        kind = next(
            (KINDS[word] for word in re.findall(r"[a-z]+", name.casefold()) if word in KINDS),
            "other",
        )
        if kind == "boot" and (not job or "stretch" in job.casefold()):
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
    if found := _SHELF.fullmatch(text):
        return Where("shelved", found[1].strip())
    if text and text in shelves:
        return Where("shelved", text)
    if found := _TREES.fullmatch(text):
        return Where("on-tree", "", _trees(found[1], what))
    if text.casefold() not in PLACES:
        raise BadInput(say(WHERE), typed=typed)
    state = PLACES[text.casefold()]
    return Where(state if what.sides or state == "shelved" else "queued")


def _boots(sides: tuple[str, ...]) -> str:
    if len(sides) == 2:
        return say("both boots to stretch")
    return say("left boot to stretch") if sides[0] == "left" else say("right boot to stretch")


def _sides(name: str) -> tuple[str, ...]:
    return next(((side,) for side in BOTH if side in name.casefold().split()), BOTH)


def _trees(typed: str, what: What) -> tuple[str, ...]:
    labels = tuple(
        one
        for one in re.split(r"\s*(?:,|/|&|\band\b)\s*", typed.strip(), flags=re.IGNORECASE)
        if one
    )
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
