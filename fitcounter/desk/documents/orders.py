"""What is to be done with an item, as an order on paper: "Take off tree 4", "Put on tree 4, open to
14 5/8".
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from math import tau

from fitcounter.desk.assessment.standing import Standing, standing
from fitcounter.desk.bench.item_figures import mark_mm_of
from fitcounter.desk.bench.item_page import WAITS_FOR_TREE
from fitcounter.desk.bench.put_on_hints import PutOnHints, put_on_hints
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.rounds.round_seen import rounds_of
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.item_names import State
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Store
from fitcounter.store.records import Item

PLANNED = {
    "prepare": marked("Prepare"),
    "on": marked("Put on tree {tree}"),
    "off": marked("Take off tree {tree}"),
    "read": marked("Measure again"),
    "finish": marked("Finish"),
    "shaper": marked("Put on a shaper"),
}
WITHOUT_TREE = {"on": marked("Put on a tree"), "off": marked("Take off the tree")}
# What somebody has to do before the plan goes on.
FIRST = {
    State.TO_DECIDE: marked("Decide: another round, or done"),
    State.STOPPED: marked("Tell the customer, then fix or agree"),
}
BY_PLAN = (State.QUEUED, State.PREPARED, State.ON_TREE, State.RESTING, State.FINISHING)


def order(what: str, tree: str) -> str:
    """A step of the plan. tree: its label, "" where none is known."""
    return (
        say(WITHOUT_TREE[what])
        if what in WITHOUT_TREE and not tree
        else say(PLANNED[what], tree=tree)
    )


def steps(days: BootDays | None) -> list[tuple[str, date, str]]:
    """What, day and tree of each step that the last plan has for a boot, in their order."""
    kept = json.loads(days.steps) if days else []
    return [(what, date.fromisoformat(day), tree or "") for what, day, tree, _ in kept]


def next_order(store: Store, shop: Shop, item: Item, days: Mapping[int, BootDays]) -> str:
    """The one next thing to do with an item, with its day and girth where they are known; "" where
    there is none.
    """
    planned = steps(days.get(item.id)) if item.state in BY_PLAN else []
    if planned:
        what, day, tree = planned[0]
        said = say("{order}, {day}", order=order(what, tree), day=spoken().day(day))
        return ": ".join(filter(None, (said, girth(store, shop, item, what))))
    if item.state in FIRST:
        return say(FIRST[State(item.state)])
    step = item_states.next_step(item.state, item.work)
    return say(step.words) if step else ""


def girth(store: Store, shop: Shop, item: Item, what: str) -> str:
    """What the tape is to read at a planned step: "open to 14 5/8 in", "wanted 14 3/4 in"."""
    if what not in ("on", "read"):
        return ""
    found, turns = standing(store, item), rounds_of(store, item.id)
    if what == "read":
        outside = not turns or turns[-1].row.method == "outside"
        return wanted_by_tape(found, item, shop) if found and outside else ""
    to = opening(item, put_on_hints(store, shop, item, turns, found))
    return say("open to {girth}", girth=to) if to else ""


def opening(item: Item, hints: PutOnHints) -> str:
    """What the tape is to read on the tree; how much more, where the reading before is not known;
    nothing while it is on it.
    """
    if item.state not in WAITS_FOR_TREE:
        return ""
    return hints.planned or (say("{amount} more", amount=hints.opening) if hints.opening else "")


def wanted_by_tape(found: Standing, item: Item, shop: Shop) -> str:
    """What an outside tape reads at the boot's mark where it is as wide as wanted there, once
    around its wall.
    """
    place = found.place_at(mark_mm_of(item, found))
    outside_mm = place.girth_mm + place.need_mm + tau * item.wall_um / UM_PER_MM
    return say("wanted {girth}", girth=say_length(outside_mm, shop.unit))
