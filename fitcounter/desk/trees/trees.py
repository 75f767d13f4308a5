"""The shop's trees: usable from label, side and size; measured with the tape where there is time;
in repair, back, retired.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from fitcounter.desk.common.translation import say, say_later, say_n
from fitcounter.desk.measuring.sheet import read_length
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees.tree_bookings import setting_milli
from fitcounter.desk.trees.tree_choice import as_tree
from fitcounter.desk.trees.tree_shift import read_most_um
from fitcounter.errors import BadInput
from fitcounter.fit.trees.calibration import Girths, girths_of, pads_of
from fitcounter.store import plans, rounds, tags, trees
from fitcounter.store.bench_records import Calibration, TreeRow
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Tag

SIDES = (
    ("left", say_later("Left boots")),
    ("right", say_later("Right boots")),
    ("either", say_later("Either side")),
)
SIZES = (
    ("", say_later("Not known")),
    ("S", say_later("Small")),
    ("M", say_later("Medium")),
    ("L", say_later("Large")),
)
COUNTS = (
    ("turns", say_later("Turns")),
    ("marks", say_later("Wedge marks")),
    ("percent", say_later("Percent")),
)
STATES = {
    "sound": say_later("in use"),
    "repair": say_later("in repair"),
    "retired": say_later("retired"),
}
LONGEST_LABEL = 12


@dataclass(frozen=True, slots=True)
class TreeTyped:
    """A tree as it was typed. Lengths and settings as typed; empty: not known."""

    label: str
    side: str
    size: str = ""
    closed: str = ""
    open: str = ""
    closed_setting: str = ""
    open_setting: str = ""
    counts: str = "turns"
    note: str = ""
    shift_most: str = ""


class BareTreeReading(NamedTuple):
    """A girth of a tree without a boot, as it was typed: setting, height above the heel, girth."""

    setting: str
    height: str
    girth: str
    pads: str = ""


class Measured(NamedTuple):
    """A tree with these pads, as its readings have it: girths in mm closed and open at each of its
    heights.
    """

    pads: str
    girths: Girths


class TreePage(NamedTuple):
    """One tree for its page."""

    tree: TreeRow
    tag: Tag | None
    points: list[Calibration]
    measured: tuple[Measured, ...]


def tree_page(store: Store, tree_id: int) -> TreePage:
    """Raises NotFound."""
    row = trees.get(store, tree_id)
    points = trees.calibration(store, tree_id)
    known = as_tree(row, points)
    found = [(pads, girths_of(known.points, pads)) for pads in pads_of(known.points)]
    measured = tuple(Measured(pads, girths) for pads, girths in found if girths is not None)
    return TreePage(row, tags.of_tree(store, tree_id), points, measured)


def add_tree(store: Store, act: Act, shop: Shop, typed: TreeTyped) -> Written:
    """A new tree, usable at once. Raises BadInput and BadReading at the fields."""
    columns = _columns(shop, typed)

    def write() -> Written:
        if trees.by_label(store, typed.label) is not None:
            raise BadInput(
                say("Another tree has that label. Type a different one."),
                typed=typed.label,
                field="label",
            )
        row_id = store.insert("trees", **columns)
        return Written(
            row_id=row_id,
            words=say("Tree {tree} is added", tree=typed.label),
            detail={"tree": row_id},
        )

    return store.once(act, "tree-added", write)


def change_tree(
    store: Store, act: Act, shop: Shop, tree_id: int, version: int | None, typed: TreeTyped
) -> Written:
    """The tree as typed now. Raises BadInput, BadReading, Conflict."""
    columns = _columns(shop, typed)

    def write() -> Written:
        held, other = trees.get(store, tree_id), trees.by_label(store, typed.label)
        if other is not None and other.id != tree_id:
            raise BadInput(
                say("Another tree has that label. Type a different one."),
                typed=typed.label,
                field="label",
            )
        store.change("trees", tree_id, held.version if version is None else version, **columns)
        return Written(row_id=tree_id, words="saved", detail={"tree": tree_id})

    return store.once(act, "tree-changed", write)


def measure_tree(
    store: Store, act: Act, shop: Shop, tree_id: int, typed: BareTreeReading
) -> Written:
    """Saves a girth of the bare tree, with the tape round it and its pads.

    Raises BadInput (setting) and BadReading.
    """
    milli = setting_milli(typed.setting)
    if milli is None:
        raise BadInput(
            say("Type the setting as a number, like 6 or 6.5. 0 is closed."),
            typed=typed.setting,
            field="setting",
        )
    height = read_length(typed.height, shop.unit, "height", "height")
    girth = read_length(typed.girth, shop.unit, "girth")

    def write() -> Written:
        trees.get(store, tree_id)
        row_id = store.insert(
            "tree_calibration",
            tree_id=tree_id,
            setting_milli=milli,
            height_um=height.um,
            girth_um=girth.um,
            pads=typed.pads,
            source="bare",
            read_at=utc_text(act.at),
            staff_id=act.staff_id,
        )
        return Written(
            row_id=row_id,
            words="kept",
            detail={
                "tree": tree_id,
                "setting_milli": milli,
                "height_um": height.um,
                "girth_um": girth.um,
            },
        )

    return store.once(act, "tree-measured", write)


def forget_point(store: Store, act: Act, tree_id: int, point_id: int) -> Written:
    """Strikes one reading of a tree that was wrong."""

    def write() -> Written:
        trees.strike_reading(store, tree_id, point_id)
        return Written(row_id=tree_id, words="struck", detail={"tree": tree_id, "point": point_id})

    return store.once(act, "tree-reading-struck", write)


def set_state(store: Store, act: Act, tree_id: int, state: str) -> Written:
    """In repair, back in use, or retired. Raises BadInput while a boot is on it."""
    if state not in STATES:
        raise BadInput(say("Pick in use, in repair or retired."), typed=state, field="state")

    def write() -> Written:
        held = trees.get(store, tree_id)
        if state != "sound" and rounds.on_tree(store, tree_id) is not None:
            raise BadInput(
                say("A boot is on tree {tree}. Take the boot off first.", tree=held.label),
                field="state",
            )
        store.change("trees", tree_id, held.version, state=state)
        if state != "sound":
            plans.free_planned(store, tree_id)
        return Written(
            row_id=tree_id, words=str(STATES[state]), detail={"tree": tree_id, "state": state}
        )

    return store.once(act, "tree-state", write)


def give_tag(store: Store, act: Act, tree_id: int) -> Written:
    """A tag for the tree, so that it can be scanned. One that has a living tag keeps it."""

    def write() -> Written:
        trees.get(store, tree_id)
        held = tags.of_tree(store, tree_id)
        row_id = held.id if held else tags.make(store, act, None, None, tree_id=tree_id)
        return Written(
            row_id=row_id, words=say("The tag is made"), detail={"tree": tree_id, "tag": row_id}
        )

    return store.once(act, "tree-tagged", write)


def give_tags(store: Store, act: Act) -> Written:
    """A tag for every tree in the shop that has none."""

    def write() -> Written:
        bare = [one for one in trees.everyone(store) if tags.of_tree(store, one.id) is None]
        for one in bare:
            tags.make(store, act, None, None, tree_id=one.id)
        return Written(
            words=say_n("{count} tag made", "{count} tags made", len(bare)),
            detail={"tags": len(bare)},
        )

    return store.once(act, "trees-tagged", write)


def _columns(shop: Shop, typed: TreeTyped) -> dict[str, object]:
    if not typed.label.strip():
        raise BadInput(say("Type the label on the tree, like 4 or K2."), field="label")
    if typed.side not in dict(SIDES):
        raise BadInput(
            say("Pick left boots, right boots or either side."), field="side", typed=typed.side
        )
    if typed.size not in dict(SIZES) or typed.counts not in dict(COUNTS):
        raise BadInput(
            say("Pick a size and a way to count from the lists."), field="size", typed=typed.size
        )
    closed = read_length(typed.closed, shop.unit, "closed") if typed.closed.strip() else None
    wide = read_length(typed.open, shop.unit, "open") if typed.open.strip() else None
    if closed is not None and wide is not None and wide.mm <= closed.mm:
        raise BadInput(
            say("The girth wide open must be more than the girth closed. Measure both again."),
            typed=typed.open,
            field="open",
        )
    return {
        "label": typed.label.strip(),
        "side": typed.side,
        "size": typed.size,
        "closed_um": closed.um if closed else None,
        "open_um": wide.um if wide else None,
        "closed_setting_milli": _setting(typed.closed_setting, "closed_setting") or 0,
        "open_setting_milli": _setting(typed.open_setting, "open_setting"),
        "setting_word": typed.counts,
        "note": typed.note,
        "shift_most_um": read_most_um(typed.shift_most, shop.unit),
    }


def _setting(text: str, field: str) -> int | None:
    if not text.strip():
        return None
    milli = setting_milli(text)
    if milli is None:
        raise BadInput(
            say("Type the setting as a number, like 12 or 12.5."), typed=text, field=field
        )
    return milli
