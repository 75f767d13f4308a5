"""Where the file is behind the shop or wrong: an item that is further along, a step undone."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from fitcounter.desk.bench import other_work
from fitcounter.desk.common import item_words
from fitcounter.desk.common.state_changes import StepInput, write_catch_up
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds import checks_before_a_round
from fitcounter.desk.rounds.round_rows import due_off, running_round
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.store import findings, items, plans, rounds, undos
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item
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


def undo(store: Store, act: Act, shop: Shop, item_id: int, step_id: int) -> Written:
    """Undoes the item's last step. step_id: the step that the person saw as the last.

    Raises Conflict when another step has come since, when its last step is not one of the bench's,
    or when something was written on the record that it opened.
    """

    def write() -> Written:
        item = items.get(store, item_id)
        last = undos.last(store, item_id)
        if last is None or last[1][-1].id != step_id:
            raise Conflict(
                say("Another step was saved since. Look at the history, then undo the last step.")
            )
        undo_id, steps = last
        opened = undos.added(store, undo_id, "incidents")
        if any(findings.get_incident(store, incident_id).version > 1 for incident_id in opened):
            raise Conflict(
                say(
                    "The problem’s record already says what was told or agreed, so this cannot be"
                    " undone. Settle the problem there, then continue."
                )
            )
        plans.clear_running(store, item_id)
        undos.take_back(store, undo_id, steps, utc_text(act.at))
        book_again(store, shop, items.get(store, item_id))
        return Written(
            item.ticket_id,
            item_id,
            words=item_words.state_word(steps[0].from_state),
            detail={"undone": [step.step for step in steps]},
        )

    return store.once(act, "undo", write)


def book_again(store: Store, shop: Shop, item: Item) -> None:
    """After a step is taken back the tree is booked as the round now says.

    Raises Conflict where another boot is on it by now.
    """
    last = rounds.last(store, item.id)
    if last is None or last.tree_id is None or last.off_at or not (last.on_at and last.due_off_at):
        return
    # the days of the two may not even touch
    if rounds.other_on_tree(store, last.tree_id, item.id):
        raise Conflict(
            say("Another boot is on that tree by now, so this cannot be undone. Use another tree.")
        )
    tree_bookings.stretch(store, shop, item, last, utc_time(last.due_off_at))


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
