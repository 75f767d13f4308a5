"""What is looked at before a round opens a boot: the order of times, the tree, the opening, and the
limits of its leather.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from fitcounter.desk.assessment.standing import over_limit, standing
from fitcounter.desk.common import item_words
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import say, say_later, told
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees.tree_choice import as_tree
from fitcounter.desk.trees.tree_fit import BootNow, why_not_on, why_not_opened_by
from fitcounter.errors import BadInput, BadReading, Conflict
from fitcounter.fit.assessment.one_round import grown_mm
from fitcounter.fit.assessment.profile import inside_girth_mm
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.tape import Length
from fitcounter.store import items, rounds, tickets, trees
from fitcounter.store.bench_records import Round, TreeRow, Turn
from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Item

# Why a limit is passed: picked, and kept with the round.
REASONS = (
    ("leather-gives", say_later("The leather gives easily here")),
    ("master-looked", say_later("The owner approved")),
    ("customer-agreed", say_later("The customer agreed to the risk")),
    ("reading-off", say_later("The reading before was wrong")),
    ("on-already", say_later("The boot is on already; easing the tree back next")),
)

# Why a boot is on a tree that its figures keep it off; picked, and kept with the round.
ON_ANYWAY = (
    ("tree-wrong", say_later("The tree’s saved girths are wrong")),
    ("boot-wrong", say_later("The boot’s saved readings are wrong")),
)

LOST_MM = 5  # twice what two readings of one tape differ by (shop's choice)


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningToCheck:
    """A boot about to be opened on a tree. field: where the girth on the tree was typed.

    before_read: the girth before was read now, not taken over from the last rested reading.
    shift_um: how much higher the tree is to sit than usual. pads: which are on it. on_anyway: the
    reason picked where its figures keep it off that tree.
    """

    item: Item
    round_row: Round
    tree: TreeRow | None
    method: str
    before: Length | None
    on_tree: Length | None
    mark_um: int | None
    override_why: str = ""
    field: str = "on_tree"
    before_read: bool = True
    shift_um: int = 0
    pads: str = ""
    on_anyway: str = ""

    @property
    def mark_mm(self) -> float | None:
        return None if self.mark_um is None else self.mark_um / UM_PER_MM

    @property
    def opening_mm(self) -> float | None:
        before = None if self.before is None else self.before.float_mm
        return grown_mm(
            before, None if self.on_tree is None else self.on_tree.float_mm, self.method
        )


def exact_mm(um: int) -> Fraction:
    """A stored length as an exact length."""
    return Fraction(um, UM_PER_MM)


def follows(at: datetime, earlier: str | None, sentence: str) -> None:
    """A step comes after the one before it. Raises BadInput with the sentence: a later time."""
    if earlier is not None and utc_text(at) < earlier:
        raise BadInput(sentence, field="happened_time")


def not_smaller(round_row: Round, rested: Length, method: str) -> None:
    """Stretching makes no boot smaller: one that reads well below is most likely misread.

    Raises BadReading, a question.
    """
    if round_row.before_um is None or method != round_row.method:
        return
    lost_mm = round_row.before_um / UM_PER_MM - rested.float_mm
    if lost_mm > LOST_MM:
        unit = rested.unit
        raise BadReading(
            say(
                "That is {amount} less than the {before} before the tree. Please measure again:"
                " take the tape off first. Is the reading right?",
                amount=say_length(lost_mm, unit),
                before=say_length(round_row.before_um / UM_PER_MM, unit),
            ),
            typed=rested.text,
            field="tape_right",
        )


def not_wider(round_row: Round, turns: Sequence[Turn], rested: Length, method: str) -> None:
    """Off the tree leather goes back: one that reads well above its last reading on the tree is
    misread. Raises BadReading, a question.
    """
    if not turns or turns[-1].girth_um is None or method != round_row.method:
        return
    gained_mm = rested.float_mm - turns[-1].girth_um / UM_PER_MM
    if gained_mm > LOST_MM:
        unit = rested.unit
        raise BadReading(
            say(
                "That is {amount} more than the {girth} on the tree. Please measure again: take"
                " the tape off first. Is the reading right?",
                amount=say_length(gained_mm, unit),
                girth=say_length(turns[-1].girth_um / UM_PER_MM, unit),
            ),
            typed=rested.text,
            field="tape_right",
        )


def tree_serves(store: Store, shop: Shop, opening: OpeningToCheck) -> None:
    """Is it a tree that this boot can go on? Raises BadInput with the one reason why not; at
    on_anyway where it may be on all the same.
    """
    tree, item = opening.tree, opening.item
    if tree is None:
        return
    tree_is_free(store, item, tree)
    boot, known = _boot_now(store, shop, opening), as_tree(tree, trees.calibration(store, tree.id))
    if sentence := why_not_on(boot, known, limits=False):
        if opening.on_anyway not in dict(ON_ANYWAY):
            raise BadInput(told(sentence), typed=tree.label, field="on_anyway")
        return
    if not opening.override_why and (sentence := why_not_on(boot, known)):
        raise BadInput(
            say("{why} Pick another tree, or a reason to go on.", why=told(sentence)),
            field="override_why",
        )


def _boot_now(store: Store, shop: Shop, opening: OpeningToCheck) -> BootNow:
    """The boot in hand: by its reading where it was read now, or where nothing else is known."""
    found = standing(store, opening.item)
    read = opening.before if found is None or opening.before_read else None
    wall_mm = opening.item.wall_um / UM_PER_MM
    return BootNow(
        item=opening.item,
        found=found,
        unit=shop.unit,
        girth_mm=inside_girth_mm(read.float_mm, opening.method, wall_mm) if read else None,
        mark_mm=opening.mark_mm,
    )


def tree_is_free(store: Store, item: Item, tree: TreeRow) -> None:
    """Raises BadInput for a tree that is not sound or for the other side, Conflict while another
    boot is on it.
    """
    if tree.state != "sound":
        sentence = (
            say("Tree {tree} is in repair. Pick another tree.", tree=tree.label)
            if tree.state == "repair"
            else say("Tree {tree} is retired. Pick another tree.", tree=tree.label)
        )
        raise BadInput(sentence, typed=tree.label, field="tree")
    if item.side and tree.side not in (item.side, "either"):
        raise BadInput(
            say("Tree {tree} is for left boots. Pick another tree.", tree=tree.label)
            if tree.side == "left"
            else say("Tree {tree} is for right boots. Pick another tree.", tree=tree.label),
            typed=tree.label,
            field="tree",
        )
    busy = rounds.on_tree(store, tree.id)
    if busy is not None and busy.item_id != item.id:
        other = items.get(store, busy.item_id)
        number = tickets.get(store, other.ticket_id).number
        raise Conflict(
            say(
                "{item} is on tree {tree}. Take {item} off first, or pick another tree.",
                item=item_words.named(other.side, other.kind, number),
                tree=tree.label,
            ),
            typed=tree.label,
            field="tree",
        )


def is_read(opening: OpeningToCheck, setting: str, unread: bool) -> None:
    """Was the girth on the tree read, its setting noted, or said to be unread? Raises
    BadReading.
    """
    if opening.on_tree is None and not setting and not unread:
        raise BadReading(
            say("Type what the tape reads on the tree, or pick “not read yet”."),
            field=opening.field,
        )


def opens(opening: OpeningToCheck) -> None:
    """A girth on the tree is more than the one before. Raises BadReading."""
    opening_mm = opening.opening_mm
    if (
        opening_mm is not None
        and opening_mm <= 0
        and opening.before is not None
        and opening.on_tree is not None
    ):
        raise BadReading(
            say(
                "On the tree the tape must read more than the {before} before. Measure again, or"
                " correct the reading before.",
                before=say_length(opening.before.mm, opening.before.unit),
            ),
            typed=opening.on_tree.text,
            field=opening.field,
        )


def within_limits(store: Store, shop: Shop, opening: OpeningToCheck) -> None:
    """Does the opening stay within what this leather, zip and seams may? Raises BadInput at
    override_why with the number passed.

    A reason picked from REASONS lets the bench go on; it is kept with the round.
    """
    if opening.override_why:
        if opening.override_why not in dict(REASONS):
            raise BadInput(
                say("Pick a reason to go past the limit."),
                field="override_why",
                typed=opening.override_why,
            )
        return
    opening_mm = opening.opening_mm
    found = standing(store, opening.item) if opening_mm is not None else None
    if opening_mm is None or found is None:
        return
    sentence = over_limit(found, opening.mark_mm, opening_mm, shop.unit)
    sentence = sentence or _over_along_the_shaft(store, shop, opening)
    if sentence:
        raise BadInput(
            sentence, field="override_why", typed=opening.on_tree.text if opening.on_tree else None
        )


def _over_along_the_shaft(store: Store, shop: Shop, opening: OpeningToCheck) -> str:
    """What the tree does too much of away from the mark, "" where nothing or where it is not
    measured.
    """
    tree, opening_mm = opening.tree, opening.opening_mm
    if tree is None or opening_mm is None:
        return ""
    why = why_not_opened_by(
        _boot_now(store, shop, opening),
        as_tree(tree, trees.calibration(store, tree.id)),
        opening_mm,
        pads=opening.pads,
        shift_mm=opening.shift_um / UM_PER_MM,
    )
    return say("{why} Turn back, or pick a reason to go on.", why=told(why)) if why else ""
