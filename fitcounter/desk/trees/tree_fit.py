"""Whether a boot as it stands goes on a tree: asked by the plan before it books one, and by the
step with the boot in hand. What fits is said by `fit.trees.serving` alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.trees.girth_before_round import last_rested
from fitcounter.desk.trees.tree_choice import rank, wanted_of
from fitcounter.errors import FitCounterError
from fitcounter.fit.assessment.profile import Profile, inside_girth_mm
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.trees.limits import Wanted
from fitcounter.fit.trees.serving import Tree, why_kept_off, why_kept_off_girth, why_not_so_far
from fitcounter.store import rounds
from fitcounter.store.database import Store
from fitcounter.store.records import Item

# Two readings of one boot differ by so much and mean the same girth (half of what is asked about).
SAME_GIRTH_MM = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class BootNow:
    """A boot for which a tree is looked at. found: where it stands, None where it has no figures.

    girth_mm: its inside girth at mark_mm as read just now; None takes it as it was measured last.
    unit: the shop's, for sentences.
    """

    item: Item
    found: Standing | None
    unit: str
    girth_mm: float | None = None
    mark_mm: float | None = None

    @property
    def wanted(self) -> Wanted | None:
        """The round it needs a tree for, as wide as the boot reads now; None where there is no
        such figure.
        """
        found = self.found
        wanted = wanted_of(found, self.item, frozenset(), self.unit) if found else None
        if found is None or wanted is None or self.girth_mm is None:
            return wanted
        wider_mm = self.girth_mm - found.place_at(self.mark_mm).girth_mm
        if abs(wider_mm) <= SAME_GIRTH_MM:
            return wanted
        points = zip(wanted.boot.heights_mm, wanted.boot.girths_mm, strict=True)
        as_read = Profile.straight((height, girth + wider_mm) for height, girth in points)
        return replace(wanted, boot=as_read)


def trees_to_book(boot: BootNow, shop_trees: Sequence[Tree]) -> tuple[str, ...]:
    """Labels of the trees that a boot's rounds may be booked on, best first: those that reach the
    best opening, and where none does, every tree of its side that opens it less.
    """
    try:
        labels = rank(boot.found, boot.item, shop_trees, frozenset(), boot.unit).labels
    except FitCounterError:
        labels = ()
    by_label = {tree.label: tree for tree in shop_trees if _can_be_had(tree, boot.item)}
    for some in (labels, tuple(by_label)):
        fitting = tuple(label for label in some if not why_not_on(boot, by_label[label]))
        if fitting:
            return fitting
    return ()


def why_not_on(boot: BootNow, tree: Tree, *, limits: bool = True) -> str:
    """Why a boot does not go on a tree, "" where it does.

    limits: False looks at sizes alone, for a boot that goes past a limit for a reason.
    """
    try:
        wanted = boot.wanted
        if wanted is not None:
            return why_kept_off(tree, wanted, limits=limits)
        girth_mm = boot.found.verdict.worst.girth_mm if boot.found else boot.girth_mm
        return "" if girth_mm is None else why_kept_off_girth(tree, girth_mm, boot.unit)
    except FitCounterError:
        return ""  # a boot that cannot be computed goes on without figures


def why_not_opened_by(
    boot: BootNow, tree: Tree, opening_mm: float, *, pads: str = "", shift_mm: float = 0.0
) -> str:
    """Why an opening at the mark is too much somewhere along the shaft, for leather, zip or seams;
    "" where it is not, or where that cannot be known.
    """
    try:
        wanted = boot.wanted
        if wanted is None:
            return ""
        at_mm = wanted.at_mm if boot.mark_mm is None else boot.mark_mm
        if not wanted.boot.covers(at_mm):
            return ""
        girth_mm = wanted.boot.at(at_mm) + opening_mm
        opened = replace(wanted, at_mm=at_mm, girth_mm=girth_mm)
        return why_not_so_far(tree, opened, pads, shift_mm)
    except FitCounterError:
        return ""


def last_girth_mm(store: Store, item: Item) -> float | None:
    """The inside girth a boot was last read at rested, None where no round of it was read."""
    before = rounds.last(store, item.id)
    if before is None:
        return None
    read = last_rested(store, item.id, before.method, before.mark_um or item.mark_um)
    if read is None:
        return None
    return inside_girth_mm(read.float_mm, before.method, item.wall_um / UM_PER_MM)


def _can_be_had(tree: Tree, item: Item) -> bool:
    sides = ("left", "right", "either") if item.side is None else (item.side, "either")
    return tree.state == "in use" and tree.side in sides
