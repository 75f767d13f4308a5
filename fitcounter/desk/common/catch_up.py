"""Catching up: an item that is further along than the file says. What was skipped on the way is
kept as not recorded, never as a reading.
"""

from __future__ import annotations

from fitcounter.desk.common import item_words
from fitcounter.desk.common.state_changes import CATCH_UP, StepInput, seen_version, write_row
from fitcounter.desk.common.translation import say
from fitcounter.errors import OutOfOrder
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State
from fitcounter.store import items
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item


def catch_up(store: Store, act: Act, item_id: int, state: str, step_input: StepInput) -> Written:
    """Moves an item that is further along to `state`; what was skipped is kept as not recorded.

    Raises OutOfOrder for a state that is not on its way, NotFound.
    """

    def write() -> Written:
        return write_catch_up(store, act, items.get(store, item_id), state, step_input)

    return store.once(act, CATCH_UP, write)


def write_catch_up(
    store: Store, act: Act, item: Item, state: str, step_input: StepInput
) -> Written:
    """The rows of a catch-up, inside a transaction that is already open. Raises OutOfOrder."""
    if state not in item_states.way(item.work) or state in item_states.GONE:
        raise OutOfOrder(say("Pick one of the states in the list."), typed=state, field="state")
    at = step_input.happened_at
    columns = {"state": state, "since": utc_text(at), **step_input.columns}
    store.change("items", item.id, seen_version(item, step_input), **columns)
    states = (item.state, State(state))
    write_row(store, act, item, CATCH_UP, at, states, step_input.detail)
    detail = {"from": item.state, "to": state}
    return Written(item.ticket_id, item.id, words=item_words.state_word(state), detail=detail)
