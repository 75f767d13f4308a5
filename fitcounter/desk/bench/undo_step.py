"""The last step of an item taken back, with what it wrote; its tree is booked as before."""

from __future__ import annotations

from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import Conflict
from fitcounter.store import findings, items, plans, rounds, undos
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item


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
