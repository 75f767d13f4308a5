"""One step of one item: the only place that moves an item from state to state.

The shop may be ahead of the program: a step out of order asks once (OutOfOrder carries the
question); saved again with `catch_up` what was skipped is kept as not recorded, never as a reading.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from fitcounter.errors import Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.store import items
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item

EARLY = "read too early: kept, but it does not count; measure again once it has rested"


@dataclass(frozen=True, slots=True)
class Said:
    """What was said with a step. happened_at: aware UTC, never later than the act. detail: measures
    and words, no names of people.

    columns: changes of the item's own row. catch_up: save although steps before it are missing.
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
    said: Said,
    work: Callable[[Item], dict[str, Any] | None] | None = None,
) -> Written:
    """Saves one step as one transaction, one row of steps and one row of the audit.

    work: what else the step writes, run inside the transaction with the item as it was; what it
    returns joins the detail. Raises OutOfOrder (the question to ask), Conflict (handed out already;
    changed by somebody else), NotFound.
    """

    def write() -> Written:
        item = items.get(store, item_id)
        if (
            said.version is not None and said.version != item.version
        ):  # before any question: it may be about what somebody else just did
            raise Conflict(
                "Two people wrote this. Look at what is there now, then save again; both texts are"
                " kept."
            )
        missed = skipped(item, step, said.catch_up)
        more = (work(item) if work else None) or {}
        return write_step(
            store,
            act,
            item,
            step,
            Said(
                said.happened_at, said.catch_up, said.version, {**said.detail, **more}, said.columns
            ),
            missed,
        )

    return store.once(act, step, write)


def write_step(
    store: Store, act: Act, item: Item, step: str, said: Said, skipped: tuple[str, ...] = ()
) -> Written:
    """The rows of one step, inside a transaction that is already open."""
    state = item.state
    for missed in skipped:
        _row(store, act, item.id, "catch-up", said.happened_at, state, missed, recorded=0)
        state = missed
    leads_to = item_states.after(state, step, item.state_before)
    kept = (
        item.state
        if leads_to in item_states.ASIDE and item.state not in item_states.ASIDE
        else item.state_before
    )
    version = item.version if said.version is None else said.version
    since = utc_text(said.happened_at) if leads_to != item.state else item.since
    store.change(
        "items",
        item.id,
        version,
        **{"state": leads_to, "state_before": kept, "since": since, **said.columns},
    )
    _row(store, act, item.id, step, said.happened_at, state, leads_to, detail=said.detail)
    words = EARLY if step == "early-reading" else item_states.WORDS[leads_to]
    return Written(
        item.ticket_id,
        item.id,
        words=words,
        detail={"from": item.state, "to": leads_to, **said.detail},
    )


def catch_up(store: Store, act: Act, item_id: int, state: str, said: Said) -> Written:
    """It is further along than this: moves the item to `state`, what was skipped kept as not
    recorded.
    """

    return store.once(
        act, "catch-up", lambda: write_catch_up(store, act, items.get(store, item_id), state, said)
    )


def write_catch_up(store: Store, act: Act, item: Item, state: str, said: Said) -> Written:
    """The rows of a catch-up, inside a transaction that is already open."""
    if state not in item_states.way(item.work) or state in item_states.GONE:
        raise OutOfOrder("Pick one of the listed places for this item.", typed=state, field="state")
    store.change(
        "items",
        item.id,
        item.version,
        state=state,
        since=utc_text(said.happened_at),
        **said.columns,
    )
    _row(
        store,
        act,
        item.id,
        "catch-up",
        said.happened_at,
        item.state,
        state,
        recorded=0,
        detail=said.detail,
    )
    return Written(
        item.ticket_id,
        item.id,
        words=item_states.WORDS[state],
        detail={"from": item.state, "to": state},
    )


def skipped(item: Item, step: str, caught_up: bool) -> tuple[str, ...]:
    """The states between here and a step.

    Raises OutOfOrder, the question, until they are to be caught up; Conflict when it is gone.
    """
    if item_states.may(item.state, step):
        return ()
    if item.state in item_states.GONE:
        raise Conflict(
            "This is down as handed over already. If it is here, use “Back for another look”."
        )
    if not caught_up:
        raise OutOfOrder(
            f"This {item.kind} is down as {item_states.WORDS[item.state]}. Save"
            f" “{item_states.STEPS[step].words.lower()}” all the same?",
            field="catch_up",
        )
    return item_states.missing(item.state, step, item.work)


def _row(
    store: Store,
    act: Act,
    item_id: int,
    step: str,
    happened_at: datetime,
    start: str,
    end: str,
    *,
    recorded: int = 1,
    detail: dict[str, Any] | None = None,
) -> None:
    store.insert(
        "steps",
        item_id=item_id,
        step=step,
        happened_at=utc_text(happened_at),
        saved_at=utc_text(act.at),
        staff_id=act.staff_id,
        recorded=recorded,
        from_state=start,
        to_state=end,
        detail=json.dumps(detail or {}, sort_keys=True),
    )
