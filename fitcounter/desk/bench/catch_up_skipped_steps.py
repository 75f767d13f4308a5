"""Already further along: an item that passed steps which nobody saved; what is known of its round
and its tree is kept, never a reading.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from fitcounter.desk.bench import other_work
from fitcounter.desk.common.catch_up import write_catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds import checks_before_a_round
from fitcounter.desk.rounds.round_rows import due_off, running_round
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import OutOfOrder
from fitcounter.fit import item_states
from fitcounter.store import items, rounds
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.undos import Writes


def further_along(
    store: Store,
    act: Act,
    shop: Shop,
    item_id: int,
    state: str,
    step_input: StepInput,
    tree: str = "",
) -> Written:
    """It is further along than this.

    What was skipped is kept as not recorded; a tree it was on is free, if it is past that. tree:
    label of the one that it is on, "" where nobody knows. Raises OutOfOrder; BadInput, Conflict for
    a tree that cannot be the one.
    """

    def write() -> Written:
        item = items.get(store, item_id)
        if state not in item_states.further(item.state, item.work):
            raise OutOfOrder(say("Pick one of the states in the list."), typed=state, field="state")
        writes = Writes(store, item, step_input.columns)
        _catch_up_round(store, shop, writes, state, step_input.happened_at)
        if state in ("finished", "shelved"):
            other_work.all_done(store, act, writes, item, replace(step_input, catch_up=True))
        if state == "on-tree" and tree.strip():
            _on_that_tree(store, shop, writes, tree)
        writes.keep("catch-up")
        return write_catch_up(store, act, item, state, step_input)

    return store.once(act, "catch-up", write)


def _on_that_tree(store: Store, shop: Shop, writes: Writes, label: str) -> None:
    """The running round has its tree, booked until it is due off: no plan gives it to another."""
    item, tree = writes.item, tree_bookings.named_tree(store, label)
    checks_before_a_round.tree_is_free(store, item, tree)
    running = running_round(writes, item)
    writes.change("rounds", running.id, tree_id=tree.id)
    held = (utc_time(running.on_at or ""), utc_time(running.due_off_at or ""))
    tree_bookings.book(store, shop, item, running.n, tree, held)


def _catch_up_round(store: Store, shop: Shop, writes: Writes, state: str, at: datetime) -> None:
    """A round that went on or came off without being saved: its times as far as they are known,
    never a reading.
    """
    item = writes.item
    along = item_states.way(item.work)
    if item.work == "other" or along.index(state) < along.index("on-tree"):
        return
    if state == "on-tree":
        due_at = due_off(store, shop, item, at)
        running = running_round(writes, item)
        writes.change("rounds", running.id, on_at=utc_text(at), due_off_at=utc_text(due_at))
        return
    last = rounds.last(store, item.id)
    if item.state == "on-tree" or (
        state in ("resting", "to-decide") and (last is None or last.off_at is not None)
    ):
        running = running_round(writes, item)
        writes.change("rounds", running.id, off_at=utc_text(at))
    tree_bookings.release(store, item)
