"""One step of one item: how an item moves from state to state (reached unsaved: `catch_up`).

The shop may be ahead of the program: a step out of order asks once (OutOfOrder carries the
question); saved again with `catch_up` what was skipped is kept as not recorded, never as a reading.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State
from fitcounter.store import items
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item

CATCH_UP = "catch-up"  # the step of a state that was reached without being saved
EARLY = marked("Measured too early: saved, but it does not count")


@dataclass(frozen=True, slots=True)
class StepInput:
    """What comes with a step. happened_at: aware UTC, never later than the act. detail: measures
    and words, no names of people.

    columns: changes of the item's own row. catch_up: save although steps before it are missing.
    version: of the item that the person looked at; None where nobody looked at one.
    """

    happened_at: datetime
    catch_up: bool = False
    version: int | None = None
    detail: dict[str, Any] = field(default_factory=dict)
    columns: dict[str, object] = field(default_factory=dict)


def take_step(
    store: Store,
    act: Act,
    item_id: int,
    step: str,
    step_input: StepInput,
    work: Callable[[Item], dict[str, Any] | None] | None = None,
) -> Written:
    """Saves one step as one transaction, one row of steps and one row of the audit.

    work: what else the step writes, run inside the transaction with the item as it was; what it
    returns joins the detail. Raises OutOfOrder (the question to ask), Conflict (handed out already;
    changed by somebody else), NotFound.
    """

    def write() -> Written:
        item = items.get(store, item_id)
        # before any question: it may be about what somebody else just did
        if step_input.version not in (None, item.version):
            raise Conflict(
                say(
                    "Someone changed this while you were typing. Look at the change, then save"
                    " again. Both texts are here."
                )
            )
        missed = skipped(item, step, step_input.catch_up)
        more = (work(item) if work else None) or {}
        with_detail = replace(step_input, detail={**step_input.detail, **more})
        return write_step(store, act, item, step, with_detail, missed)

    return store.once(act, step, write)


def write_step(
    store: Store,
    act: Act,
    item: Item,
    step: str,
    step_input: StepInput,
    skipped: tuple[State, ...] = (),
) -> Written:
    """Writes the rows of one step, inside a transaction that is already open.

    item: as it was before. skipped: states passed on the way, kept as not recorded.
    """
    at, state = step_input.happened_at, item.state
    for missed in skipped:
        write_row(store, act, item, CATCH_UP, at, (state, missed))
        state = missed
    leads_to = item_states.after(state, step, item.state_before)
    columns = {
        "state": leads_to,
        "state_before": _state_before(item, leads_to),
        "since": utc_text(at) if leads_to != item.state else item.since,
        **step_input.columns,
    }
    store.change("items", item.id, seen_version(item, step_input), **columns)
    write_row(store, act, item, step, at, (state, leads_to), step_input.detail)
    words = say(EARLY) if step == "early-reading" else item_words.state_word(leads_to)
    detail = {"from": item.state, "to": leads_to, **step_input.detail}
    return Written(item.ticket_id, item.id, words=words, detail=detail)


def skipped(item: Item, step: str, caught_up: bool) -> tuple[State, ...]:
    """The states between here and a step.

    Raises OutOfOrder, the question, until they are to be caught up; Conflict when it is gone.
    """
    if item_states.may(item.state, step):
        return ()
    if item.state in item_states.GONE:
        raise Conflict(
            say(
                "This was handed over already. If it is here, use “{step}”.",
                step=say(item_states.STEPS["come-back"].words),
            )
        )
    if not caught_up:
        raise OutOfOrder(
            say(
                "The file says: {state}. Save “{step}” now?",
                state=item_words.state_word(item.state),
                step=say(item_states.STEPS[step].words),
            ),
            field="catch_up",
        )
    return item_states.missing(item.state, step, item.work)


def seen_version(item: Item, step_input: StepInput) -> int:
    """The version of the item that the person looked at; the present one where nobody looked."""
    return item.version if step_input.version is None else step_input.version


def _state_before(item: Item, leads_to: str) -> str:
    """Where an item goes back to from waiting or from stopped."""
    goes_aside = leads_to in item_states.ASIDE and item.state not in item_states.ASIDE
    return item.state if goes_aside else item.state_before


def write_row(
    store: Store,
    act: Act,
    item: Item,
    step: str,
    happened_at: datetime,
    states: tuple[State, State],
    detail: dict[str, Any] | None = None,
) -> None:
    """One row of steps; what is caught up was never recorded. states: from which, to which."""
    store.insert(
        "steps",
        item_id=item.id,
        step=step,
        happened_at=utc_text(happened_at),
        saved_at=utc_text(act.at),
        staff_id=act.staff_id,
        recorded=int(step != CATCH_UP),
        from_state=states[0],
        to_state=states[1],
        detail=json.dumps(detail or {}, sort_keys=True),
    )
