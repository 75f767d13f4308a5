"""A boot that is on a tree although its figures say that it cannot be: the tree it really is on is
saved with a reason, and where the tree's own girths were wrong it is calibrated from the boot.
"""

from __future__ import annotations

from fitcounter.desk.rounds.checks_before_a_round import OpeningToCheck
from fitcounter.desk.trees.tree_bookings import inside_um
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Act, utc_text
from fitcounter.store.undos import Writes

TREE_WRONG = "tree-wrong"


def calibrate(act: Act, writes: Writes, opening: OpeningToCheck) -> None:
    """What the boot says of a tree whose saved girths were wrong, inside the step's write.

    It went in: closed, the tree is no larger than the boot was. It opens the boot so far: open, it
    is no smaller than that. A girth read with its setting is kept by the step itself.
    """
    tree = opening.tree
    if tree is None or opening.on_anyway != TREE_WRONG:
        return
    if opening.before is None or opening.mark_um is None:
        return
    before = inside_um(writes.item, opening.before, opening.method)
    on_tree = opening.on_tree
    widest = inside_um(writes.item, on_tree, opening.method) if on_tree else before
    if ends := _ends(tree, before, widest):
        writes.change("trees", tree.id, **ends)
    writes.insert(
        "tree_calibration",
        tree_id=tree.id,
        setting_milli=tree.closed_setting_milli,
        height_um=opening.mark_um - opening.shift_um,
        girth_um=before,
        pads=opening.pads,
        source="on-boot",
        read_at=utc_text(act.at),
        staff_id=act.staff_id,
    )


def _ends(tree: TreeRow, before_um: int, widest_um: int) -> dict[str, object]:
    """Its one girth closed and wide open, as far as the boot shows them to be wrong."""
    ends: dict[str, object] = {}
    if tree.closed_um is not None and before_um < tree.closed_um:
        ends["closed_um"] = before_um
    if tree.open_um is not None and tree.open_um < widest_um:
        ends["open_um"] = widest_um
    return ends
