"""Which tree, and why: every tree for a boot's next round with what it would do along the shaft, or
one sentence why not.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.assessment.standing import Standing, standing
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import say, say_n, spoken, told
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_choice
from fitcounter.desk.trees.tree_choice import Ranked
from fitcounter.desk.trees.tree_shift import shift_words
from fitcounter.errors import NotFound
from fitcounter.fit.assessment.hold_choices import rounds_on_one_tree
from fitcounter.fit.drawings.opening import OpeningDrawing, opening_drawing
from fitcounter.fit.trees.choice import Choice, Rejected
from fitcounter.store import bench_board, items
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.database import Store


class Offered(NamedTuple):
    """A tree that may serve.

    words: what it would do; drawn: its opening over the shaft, where it is measured.
    """

    choice: Choice
    words: str
    drawn: OpeningDrawing | None


class ChoicePage(NamedTuple):
    """wanted: the girth and place the round is for, in words."""

    row: BoardRow
    wanted: str
    offered: tuple[Offered, ...]
    rejected: tuple[Rejected, ...]


def choice_page(store: Store, shop: Shop, item_id: int) -> ChoicePage:
    """Raises NotFound."""
    row = bench_board.one(store, item_id)
    if row is None:
        raise NotFound(say("There is no such item. Scan the tag or type the number."))
    item = items.get(store, item_id)
    found, stands = tree_choice.safely(store, item, shop.unit), standing(store, item)
    widest = max(
        (one.opening_mm for choice in found.choices for one in choice.heights), default=0.0
    )
    offered = tuple(
        Offered(
            one,
            " ".join([*_words(one, shop.unit), *_alone(one, found, stands)]),
            opening_drawing(one.heights, widest, shop.unit),
        )
        for one in found.choices
    )
    wanted = ""
    if found.wanted_mm is not None and found.at_mm is not None:
        wanted = say(
            "Wanted inside: {girth} at {height}.",
            girth=say_length(found.wanted_mm, shop.unit),
            height=say_length(found.at_mm, shop.unit),
        )
    return ChoicePage(row, wanted, offered, found.rejected)


def _alone(one: Choice, found: Ranked, stands: Standing | None) -> list[str]:
    """How many rounds this tree alone would take, opened all the way every time and whatever the
    limits say.
    """
    opening = stands.opening_mm(None) if stands else None
    if stands is None or opening is None or one.room_left_mm is None or found.wanted_mm is None:
        return []
    now = stands.verdict.worst.girth_mm
    rounds = rounds_on_one_tree(
        now, now + stands.need_mm, found.wanted_mm + one.room_left_mm, opening.kept
    )
    if rounds is None:
        return [say("Even wide open, this tree alone is not enough.")]
    return [
        say_n(
            "Wide open, this tree alone needs {count} round.",
            "Wide open every time, this tree alone needs {count} rounds.",
            rounds,
        )
    ]


def _words(one: Choice, unit: str) -> list[str]:
    """Setting, pads, looseness elsewhere and room left, a sentence each; why nothing is known where
    it is not measured.
    """
    if one.note:
        note = told(one.note)
        return [f"{note[:1].upper()}{note[1:]}.", say("Open the tree by the tape.")]
    setting = [] if one.setting is None else [_turn_to(one.setting)]
    pads = [say("With pads: {pads}.", pads=one.pads)] if one.pads else []
    loose = say("No height gets looser than wanted.")
    if one.worst_looseness_mm and one.worst_at_mm is not None:
        loose = say(
            "Leaves the boot {amount} looser than wanted at {height}.",
            amount=say_length(one.worst_looseness_mm, unit),
            height=say_length(one.worst_at_mm, unit),
        )
    left = (
        []
        if one.room_left_mm is None
        else [
            say(
                "The tree can open another {amount}.",
                amount=say_length(max(0.0, one.room_left_mm), unit),
            )
        ]
    )
    return [*setting, *_shift(one, unit), *pads, loose, *left]


def _shift(one: Choice, unit: str) -> list[str]:
    words = shift_words(one.shift_mm, unit)
    return [say("Set it {shift}.", shift=words)] if words else []


def _turn_to(setting: float) -> str:
    number = spoken().number(setting)
    return say("Turn the tree to {setting}.", setting=number)
