"""The steps between and after rounds: another go, done, finish, shelf; waiting and going on;
something went wrong; other work.

As in `bench_steps`: one call, one transaction, and the way back of each is kept.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from fitcounter.desk.assessment import shop_records
from fitcounter.desk.bench import tree_bookings
from fitcounter.desk.bench.round_steps import bench_step, hold_of, running_round
from fitcounter.desk.common.item_steps import Said
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.store import findings, items, plans, rounds, undos
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

WAITS_FOR = (("customer", "The customer"), ("part", "A part"), ("sent-out", "It is sent out"))


def another_round(store: Store, act: Act, item_id: int, said: Said) -> Written:
    """Not there yet: back in the queue for another go on the tree."""
    return bench_step(
        store,
        act,
        item_id,
        "another-round",
        said,
        lambda item, writes: _round_over(writes, item, "another"),
    )


def done(store: Store, act: Act, item_id: int, said: Said) -> Written:
    """Done stretching. Trees that were still planned for it are free."""

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        plans.drop_planned(store, item.id)
        return _round_over(writes, item, "done")

    return bench_step(store, act, item_id, "done", said, work)


def finish(store: Store, act: Act, item_id: int, said: Said, shaper: str = "") -> Written:
    """Finished: marks off, conditioned, polished; on a shaper at its final size, where one was
    named.
    """

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        plans.drop_planned(store, item.id)
        return {**_round_over(writes, item, "done"), "shaper": shaper or item.shaper}

    return bench_step(store, act, item_id, "finish", _with(said, shaper=shaper), work)


def shelve(
    store: Store, act: Act, item_id: int, said: Said, shelf: str, shaper: str = ""
) -> Written:
    """On a shelf, with the shaper it waits on. Raises BadInput without a shelf."""
    shelf = _shelf(shelf)
    return bench_step(
        store,
        act,
        item_id,
        "shelve",
        _with(said, shelf=shelf, shaper=shaper),
        lambda item, writes: {"shelf": shelf, "shaper": shaper},
    )


def start_work(store: Store, act: Act, item_id: int, said: Said) -> Written:
    """Other work begins: heels, a bag, a belt."""
    return bench_step(store, act, item_id, "start-work", said, lambda item, writes: {})


def work_done(store: Store, act: Act, item_id: int, said: Said, shelf: str) -> Written:
    """Other work is done and on a shelf. Raises BadInput without a shelf."""
    shelf = _shelf(shelf)
    return bench_step(
        store,
        act,
        item_id,
        "work-done",
        _with(said, shelf=shelf),
        lambda item, writes: {"shelf": shelf},
    )


def wait(store: Store, act: Act, item_id: int, said: Said, waits_for: str) -> Written:
    """It waits: for the customer, for a part, or it is sent out."""
    if waits_for not in dict(WAITS_FOR):
        raise BadInput(
            "Say what it waits for: the customer, a part, or that it is sent out.",
            field="waits_for",
            typed=waits_for,
        )
    step = _with(said, waits_for=waits_for)
    return bench_step(
        store, act, item_id, "wait", step, lambda item, writes: {"waits_for": waits_for}
    )


def go_on(store: Store, act: Act, item_id: int, said: Said) -> Written:
    """What it waited for is there, or what went wrong is settled: back to where it stood.

    Raises BadInput while it is not settled.
    """

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        if unsettled(store, item):
            raise BadInput(
                "What went wrong is not settled yet. Write down what was agreed, settle it, then"
                " go on."
            )
        turn = rounds.last(store, item.id)
        if turn is not None and turn.outcome == "stopped":
            writes.change("rounds", turn.id, outcome="")  # its rested reading belongs to it
        return {}

    here = Said(said.happened_at, said.catch_up, said.version, columns={"waits_for": ""})
    return bench_step(store, act, item_id, "go-on", here, work)


def unsettled(store: Store, item: Item) -> int | None:
    """The record of what went wrong that still has to be settled before a stopped item goes on."""
    found = findings.incidents_of_item(store, item.id) if item.state == "stopped" else []
    return next((one.id for one in found if one.settled_at is None), None)


def stop(
    store: Store, act: Act, item_id: int, said: Said, what: str, where_on: str = ""
) -> Written:
    """Something went wrong: the item stops, and a record is opened of what happened, to be told and
    settled.

    what, where_on: free words; they stay out of the audit. A boot on a tree comes off it.
    """
    if not what.strip():
        raise BadInput("Say in a few words what went wrong.", field="what")

    return bench_step(
        store,
        act,
        item_id,
        "stop",
        said,
        lambda item, writes: stopped(store, act, writes, item, said.happened_at, what, where_on),
    )


def stopped(
    store: Store, act: Act, writes: Writes, item: Item, at: datetime, what: str, where_on: str
) -> dict[str, Any]:
    """The writes of stopping an item, inside a step."""
    if "on-tree" in (item.state, item.state_before if item.state == "waiting" else ""):
        turn = running_round(writes, item)
        writes.change("rounds", turn.id, off_at=utc_text(at), outcome="stopped")
    tree_bookings.release(store, item)
    plans.drop_planned(store, item.id)
    opened = {
        "opened_at": utc_text(at),
        "what": what,
        "where_on": where_on,
        "staff_id": act.staff_id,
    }
    return {"incident": writes.insert("incidents", item_id=item.id, **opened)}


def settle(
    store: Store,
    act: Act,
    incident_id: int,
    version: int | None,
    told: bool,
    agreed: str,
    settled: bool,
) -> Written:
    """What was done about it: whether the customer was told, what was agreed, whether that is the
    end of it.
    """

    def write() -> Written:
        found = findings.get_incident(store, incident_id)
        told_at = (found.told_at or utc_text(act.at)) if told else None
        settled_at = (found.settled_at or utc_text(act.at)) if settled else None
        store.change(
            "incidents",
            incident_id,
            found.version if version is None else version,
            told_at=told_at,
            agreed=agreed,
            settled_at=settled_at,
        )
        item = items.get(store, found.item_id)
        return Written(
            item.ticket_id, item.id, incident_id, detail={"told": told, "settled": settled}
        )

    return store.once(act, "incident-settled", write)


def further_along(
    store: Store, act: Act, shop: Shop, item_id: int, state: str, said: Said
) -> Written:
    """It is further along than this.

    What was skipped is kept as not recorded; a tree it was on is free, if it is past that.
    """

    def write() -> Written:
        item = items.get(store, item_id)
        if state not in item_states.further(item.state, item.work):
            raise OutOfOrder(
                "Pick one of the listed places for this item.", typed=state, field="state"
            )
        writes = Writes(store, item, said.columns)
        _catch_up_round(store, shop, writes, item, state, said.happened_at)
        writes.keep("catch-up")
        version = item.version if said.version is None else said.version
        store.change(
            "items", item.id, version, state=state, since=utc_text(said.happened_at), **said.columns
        )
        row = {
            "item_id": item.id,
            "step": "catch-up",
            "happened_at": utc_text(said.happened_at),
            "saved_at": utc_text(act.at),
        }
        store.insert(
            "steps", **row, staff_id=act.staff_id, recorded=0, from_state=item.state, to_state=state
        )
        return Written(
            item.ticket_id,
            item.id,
            words=item_states.WORDS[state],
            detail={"from": item.state, "to": state},
        )

    return store.once(act, "catch-up", write)


def undo(store: Store, act: Act, shop: Shop, item_id: int, step_id: int) -> Written:
    """Takes the item's last step back. step_id: the step that the person saw as the last.

    Raises Conflict when another step has come since, when its last step is not one of the bench's,
    or when something was written on the record that it opened.
    """

    def write() -> Written:
        item = items.get(store, item_id)
        found = undos.last(store, item_id)
        if found is None or found[1][-1].id != step_id:
            raise Conflict(
                "Something else was saved on this since. Look at its history, then take back the"
                " last step."
            )
        undo_id, struck = found
        if any(
            findings.get_incident(store, one).version > 1
            for one in undos.added(store, undo_id, "incidents")
        ):
            raise Conflict(
                "What was told or agreed stands on the record of what went wrong, so this stays."
                " Settle it there, then go on."
            )
        plans.clear_running(store, item_id)
        undos.take_back(store, undo_id, struck, utc_text(act.at))
        _claim_again(store, shop, items.get(store, item_id))
        return Written(
            item.ticket_id,
            item_id,
            words=item_states.WORDS[struck[0].from_state],
            detail={"undone": [one.step for one in struck]},
        )

    done = store.once(act, "undo", write)
    shop_records.forget(store)
    return done


def _claim_again(store: Store, shop: Shop, item: Item) -> None:
    """After taking a step back the tree is claimed as the round now says."""
    turn = rounds.last(store, item.id)
    if turn and turn.tree_id and turn.on_at and turn.due_off_at and not turn.off_at:
        if rounds.other_on_tree(
            store, turn.tree_id, item.id
        ):  # its days may not even touch those of this boot's hold
            raise Conflict(
                "Another boot is on its tree by now, so this cannot be taken back. Put it on"
                " another tree instead."
            )
        tree_bookings.stretch(store, shop, item, turn, utc_time(turn.due_off_at))


def _catch_up_round(
    store: Store, shop: Shop, writes: Writes, item: Item, state: str, at: datetime
) -> None:
    """A round that went on or came off without being saved: its times as far as they are known,
    never a reading.
    """
    along = item_states.way(item.work)
    if item.work == "other" or along.index(state) < along.index("on-tree"):
        return
    if state == "on-tree":
        turn = running_round(writes, item)
        writes.change(
            "rounds",
            turn.id,
            on_at=utc_text(at),
            due_off_at=utc_text(at + timedelta(hours=hold_of(store, shop, item))),
        )
        return
    last = rounds.last(store, item.id)
    if item.state == "on-tree" or (
        state in ("resting", "to-decide") and (last is None or last.off_at is not None)
    ):
        turn = running_round(writes, item)
        writes.change("rounds", turn.id, off_at=utc_text(at))
    tree_bookings.release(store, item)


def _round_over(writes: Writes, item: Item, outcome: str) -> dict[str, Any]:
    turn = rounds.last(writes.store, item.id)
    if turn is None or turn.outcome or turn.off_at is None:
        return {}
    writes.change("rounds", turn.id, outcome=outcome)
    return {"round": turn.n}


def _with(said: Said, **columns: object) -> Said:
    """The same with columns of the item, empty ones left as they are."""
    return Said(
        said.happened_at,
        said.catch_up,
        said.version,
        said.detail,
        {**said.columns, **{k: v for k, v in columns.items() if v}},
    )


def _shelf(shelf: str) -> str:
    if not shelf.strip():
        raise BadInput("Say which shelf it stands on.", field="shelf")
    return shelf.strip()
