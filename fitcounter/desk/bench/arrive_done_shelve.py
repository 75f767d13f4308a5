"""The steps before, between and after rounds: arriving, another round, done, finish, shelf; other
work begun and done.

As in `put_on_turn_up_take_off`: one call, one transaction, and the way back of each is kept.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from fitcounter.desk.bench import other_work
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds.round_rows import bench_step
from fitcounter.errors import BadInput
from fitcounter.store import plans, rounds
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes


def arrive(store: Store, act: Act, item_id: int, step_input: StepInput) -> Written:
    """What was still at home is here."""
    here = replace(step_input, columns={**step_input.columns, "waits_for": ""})
    return bench_step(store, act, item_id, "arrive", here, lambda item, writes: {})


def another_round(store: Store, act: Act, item_id: int, step_input: StepInput) -> Written:
    """Not there yet: back in the queue for another round."""
    return bench_step(
        store,
        act,
        item_id,
        "another-round",
        step_input,
        lambda item, writes: _round_over(writes, item, "another"),
    )


def done(store: Store, act: Act, item_id: int, step_input: StepInput) -> Written:
    """Done stretching. Trees that were still planned for it are free."""

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        plans.drop_planned(store, item.id)
        return _round_over(writes, item, "done")

    return bench_step(store, act, item_id, "done", step_input, work)


def finish(
    store: Store, act: Act, item_id: int, step_input: StepInput, shaper: str = ""
) -> Written:
    """Finished: marks off, conditioned, polished; on a shaper at its final size, where one was
    named.
    """

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        other_work.all_done(store, act, writes, item, step_input)
        plans.drop_planned(store, item.id)
        return {**_round_over(writes, item, "done"), "shaper": shaper or item.shaper}

    return bench_step(store, act, item_id, "finish", _with(step_input, shaper=shaper), work)


def shelve(
    store: Store, act: Act, item_id: int, step_input: StepInput, shelf: str, shaper: str = ""
) -> Written:
    """On a shelf, with the shaper it waits on. Raises BadInput without a shelf."""
    shelf = _shelf(shelf)

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        other_work.all_done(store, act, writes, item, step_input)
        return {"shelf": shelf, "shaper": shaper}

    here = _with(step_input, shelf=shelf, shaper=shaper)
    return bench_step(store, act, item_id, "shelve", here, work)


def start_work(store: Store, act: Act, item_id: int, step_input: StepInput) -> Written:
    """Other work begins: heels, a bag, a belt."""
    return bench_step(store, act, item_id, "start-work", step_input, lambda item, writes: {})


def work_done(store: Store, act: Act, item_id: int, step_input: StepInput, shelf: str) -> Written:
    """Other work is done and on a shelf. Raises BadInput without a shelf."""
    shelf = _shelf(shelf)

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        other_work.all_done(store, act, writes, item, step_input)
        return {"shelf": shelf}

    here = _with(step_input, shelf=shelf)
    return bench_step(store, act, item_id, "work-done", here, work)


def _round_over(writes: Writes, item: Item, outcome: str) -> dict[str, Any]:
    last = rounds.last(writes.store, item.id)
    if last is None or last.outcome or last.off_at is None:
        return {}
    writes.change("rounds", last.id, outcome=outcome)
    return {"round": last.n}


def _with(step_input: StepInput, **columns: object) -> StepInput:
    """The same with columns of the item, empty ones left as they are."""
    filled = {name: value for name, value in columns.items() if value}
    return replace(step_input, columns={**step_input.columns, **filled})


def _shelf(shelf: str) -> str:
    if not shelf.strip():
        raise BadInput(say("Type the shelf, like B2."), field="shelf")
    return shelf.strip()
