"""An item waits, for the customer, a part or another shop, and goes on where it stood."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from fitcounter.desk.bench.incidents import unsettled
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.rounds.round_rows import bench_step
from fitcounter.errors import BadInput
from fitcounter.store import rounds
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

WAITS_FOR = (
    ("customer", say_later("The customer")),
    ("part", say_later("A part")),
    ("sent-out", say_later("Sent out to another shop")),
)


def wait(
    store: Store, act: Act, item_id: int, step_input: StepInput, waits_for: str, what: str = ""
) -> Written:
    """It waits: for the customer, for a part, or it is sent out.

    what: which question, which part, sent where; free words, which stay out of the audit.
    """
    if waits_for not in dict(WAITS_FOR):
        raise BadInput(
            say("Pick what this waits for: the customer, a part, or sent out."),
            field="waits_for",
            typed=waits_for,
        )
    columns = {**step_input.columns, "waits_for": waits_for, "waits_what": what.strip()}
    step = replace(step_input, columns=columns)
    return bench_step(
        store, act, item_id, "wait", step, lambda item, writes: {"waits_for": waits_for}
    )


def go_on(store: Store, act: Act, item_id: int, step_input: StepInput) -> Written:
    """What it waited for is there, or what went wrong is settled: back to where it stood.

    Raises BadInput while it is not settled.
    """

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        if unsettled(store, item):
            raise BadInput(
                say("The problem is not settled yet. Type what was agreed and settle it first.")
            )
        last = rounds.last(store, item.id)
        if last is not None and last.outcome == "stopped":
            writes.change("rounds", last.id, outcome="")  # its rested reading belongs to it
        return {}

    here = replace(step_input, detail={}, columns={"waits_for": "", "waits_what": ""})
    return bench_step(store, act, item_id, "go-on", here, work)
