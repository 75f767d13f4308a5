"""What the form of putting a boot on a tree is filled in with: from the plan, the readings and the
limits.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import tau
from typing import NamedTuple

from fitcounter.desk.assessment import standing as stand
from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.bench.item_figures import mark_mm_of, mark_typed
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.rounds.round_seen import RoundSeen
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees.tree_choice import as_tree, rank
from fitcounter.desk.trees.tree_shift import shift_words
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.store import plans, readings, trees
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Store
from fitcounter.store.records import BootReading, Item

SAME_HEIGHT_UM = 5000  # a reading belongs to a mark within one step of the evaluated heights


class PutOnHints(NamedTuple):
    """What the form of putting on is filled in with. planned: what the tape is to read; tree: the
    one it is planned on.

    expected: what the outside tape is likely to read before, by the wall, where the boot was only
    read another way. by_rested: left empty, the last rested reading stands for the one before.
    shift_um, shift: how much higher that tree is best set, also in words. likely_mm: what the tape
    reads about before, from the last reading, else by the wall.
    """

    tree: str
    before: str
    planned: str
    mark: str
    opening: str
    expected: str = ""
    by_rested: bool = False
    shift_um: int = 0
    shift: str = ""
    likely_mm: float | None = None


def put_on_hints(
    store: Store, shop: Shop, item: Item, seen: Sequence[RoundSeen], found: Standing | None
) -> PutOnHints:
    """From the plan, the last rested reading and the limits; empty where nothing is known."""
    mark_mm = (
        mark_mm_of(item, found) if found else (item.mark_um / UM_PER_MM if item.mark_um else None)
    )
    method = seen[-1].row.method if seen else "outside"
    before, before_mm = _before(store, item, seen, method, mark_mm)
    planned = opening = ""
    if found is not None:
        following = found.opening_mm(mark_mm)
        opening = (
            stand.say_room(following.opening_mm, shop.unit)
            if following and following.opening_mm > 0
            else ""
        )
        if before_mm is not None:
            planned = stand.planned_reading(found, mark_mm, before_mm, method, shop.unit)
    by_rested = not before and before_mm is not None
    by_wall_mm = None
    if found is not None and before_mm is None and method == "outside":
        by_wall_mm = found.place_at(mark_mm).girth_mm + tau * item.wall_um / UM_PER_MM
    mark = mark_typed(item, found, shop.unit)
    tree = _tree(store, item)
    shift_mm = _shift_mm(store, shop, item, tree, found) if tree and found else 0.0
    return PutOnHints(
        tree=tree.label if tree else "",
        before=before,
        planned=planned,
        mark=mark,
        opening=opening,
        expected=say_length(by_wall_mm, shop.unit) if by_wall_mm is not None else "",
        by_rested=by_rested,
        shift_um=round(shift_mm * UM_PER_MM),
        shift=shift_words(shift_mm, shop.unit),
        likely_mm=before_mm if before_mm is not None else by_wall_mm,
    )


def _tree(store: Store, item: Item) -> TreeRow | None:
    """The tree that the boot is planned on next."""
    planned = [one for one in plans.of_item(store, item.id) if one.kind == "planned"]
    return trees.get(store, planned[0].tree_id) if planned else None


def _shift_mm(store: Store, shop: Shop, item: Item, tree: TreeRow, found: Standing) -> float:
    """How much higher that tree is best set, lower where negative."""
    if not tree.shift_most_um:
        return 0.0
    known = as_tree(tree, trees.calibration(store, tree.id))
    ranked = rank(found, item, [known], frozenset(), shop.unit)
    return ranked.choices[0].shift_mm if ranked.choices else 0.0


def _before(
    store: Store, item: Item, seen: Sequence[RoundSeen], method: str, mark_mm: float | None
) -> tuple[str, float | None]:
    """The last reading that counted by this method at this mark: as the form is filled in with it,
    and in mm. One of its coming back goes before its rounds'.

    A rested reading fills nothing in: read anew it teaches the tape's own error.
    """
    back = max(
        readings.boots(store, item.id, "comeback"), key=lambda read: read.read_at, default=None
    )
    if back is not None and all((one.row.on_at or "") <= back.read_at for one in seen):
        return _at_mark([back], method, mark_mm)
    for one in reversed(seen):
        if one.row.rested_um and one.row.rested_counts and one.row.rested_method == method:
            return "", one.row.rested_um / UM_PER_MM
    if seen and any(one.row.on_at for one in seen):
        return "", None
    return _at_mark(readings.boots(store, item.id), method, mark_mm)


def _at_mark(
    read_so: Sequence[BootReading], method: str, mark_mm: float | None
) -> tuple[str, float | None]:
    for read in read_so:
        if (
            read.method == method
            and mark_mm is not None
            and abs(read.height_um - mark_mm * UM_PER_MM) <= SAME_HEIGHT_UM
        ):
            return _with_unit(read.girth_text, read.unit), read.girth_um / UM_PER_MM
    return "", None


def _with_unit(text: str, unit: str) -> str:
    return text if unit == "in" or text.endswith(unit) else f"{text} {unit}"
