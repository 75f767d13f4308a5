"""The rows of one round, written inside a step: which round it is, its turns, its coming off."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from fitcounter.desk.common.state_changes import StepInput, take_step
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.measuring.sheet import read_length
from fitcounter.desk.rounds import checks_before_a_round
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import BadInput
from fitcounter.fit.tape import Length
from fitcounter.store import fits, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

CAME_OUT = (
    ("dropped", say_later("dropped out")),
    ("eased", say_later("eased out")),
    ("gripped", say_later("gripped")),
)
# Why a boot comes off before its day.
EARLY = (
    ("tree-needed", say_later("The tree is needed")),
    ("strain", say_later("The boot looks strained")),
    ("asked", say_later("The customer asked for it")),
    ("other", say_later("Another reason")),
)


class TreeReading(NamedTuple):
    """What was set and read on a tree. at: aware UTC. girth: None where it was not read.

    setting: as typed; empty where it was not noted.
    """

    at: datetime
    girth: Length | None
    setting: str


def bench_step(
    store: Store,
    act: Act,
    item_id: int,
    step: str,
    step_input: StepInput,
    work: Callable[[Item, Writes], dict[str, Any]],
) -> Written:
    """Saves one step that can be taken back. work: its writes; returns the step's detail.

    Raises what `take_step` raises.
    """

    def write(item: Item) -> dict[str, Any]:
        writes = Writes(store, item, step_input.columns)
        detail = work(item, writes)
        writes.keep(step)
        return detail

    return take_step(store, act, item_id, step, step_input, write)


def begin_round(writes: Writes, item: Item) -> Round:
    """The round that is being prepared, or the next one."""
    last = rounds.last(writes.store, item.id)
    if last is not None and last.on_at is None and last.off_at is None and not last.outcome:
        return last
    return _new_round(writes, item, last)


def running_round(writes: Writes, item: Item) -> Round:
    """The round on the tree; where that was never saved, one without readings, which counts as
    lived.
    """
    last = rounds.last(writes.store, item.id)
    if last is not None and last.off_at is None and not last.outcome:
        return last
    return _new_round(writes, item, last)


def round_to_read(writes: Writes, item: Item) -> Round:
    """The round that a rested reading belongs to: the last, or a new one if that is over."""
    last = rounds.last(writes.store, item.id)
    return last if last is not None and not last.outcome else _new_round(writes, item, last)


def _new_round(writes: Writes, item: Item, previous: Round | None) -> Round:
    method = previous.method if previous else "outside"
    mark_um = previous.mark_um if previous else item.mark_um
    number = previous.n + 1 if previous else 1
    writes.insert("rounds", item_id=item.id, n=number, method=method, mark_um=mark_um)
    return stored_round(writes, item)


def stored_round(writes: Writes, item: Item) -> Round:
    """The item's last round as it now stands in the file; it must have one."""
    last = rounds.last(writes.store, item.id)
    assert last is not None
    return last


def off_the_tree(
    store: Store, writes: Writes, item: Item, at: datetime, came_out: str
) -> dict[str, Any]:
    """Writes that a boot came off its tree, inside a step; returns the step's detail.

    came_out: a word of CAME_OUT or empty. Raises BadInput for another word, or a time before it
    went on.
    """
    if came_out and came_out not in dict(CAME_OUT):
        raise BadInput(
            say("Say how it came out: dropped, eased or gripped."), field="came_out", typed=came_out
        )
    running = running_round(writes, item)
    turns = rounds.turns(store, running.id)
    if running.on_at != utc_text(at):
        checks_before_a_round.follows(
            at, running.on_at, say("The boot went on the tree after that time. Type a later time.")
        )
        checks_before_a_round.follows(
            at,
            turns[-1].at if turns else None,
            say("The tree was turned up after that time. Type a later time."),
        )
    writes.change("rounds", running.id, off_at=utc_text(at), came_out=came_out)
    tree_bookings.release(store, item)
    return {"round": running.n, "came_out": came_out}


def write_turn(act: Act, writes: Writes, running: Round, reading: TreeReading) -> None:
    """Writes one turn of the screw in a round; with a girth and a setting also what the tree
    measures there. Nothing where neither was noted.
    """
    girth, milli = reading.girth, tree_bookings.setting_milli(reading.setting)
    if girth is None and not reading.setting:
        return
    columns: dict[str, object] = (
        {"girth_um": girth.um, "girth_text": girth.text, "unit": girth.unit} if girth else {}
    )
    writes.insert(
        "turns",
        round_id=running.id,
        n=len(rounds.turns(writes.store, running.id)) + 1,
        at=utc_text(reading.at),
        **columns,
        setting_text=reading.setting,
        setting_milli=milli,
        staff_id=act.staff_id,
    )
    if running.tree_id is None or running.mark_um is None or girth is None or milli is None:
        return
    writes.insert(
        "tree_calibration",
        tree_id=running.tree_id,
        setting_milli=milli,
        height_um=running.mark_um - running.shift_um,
        girth_um=tree_bookings.inside_um(writes.item, girth, running.method),
        pads=running.pads,
        source="on-boot",
        read_at=utc_text(reading.at),
        staff_id=act.staff_id,
    )


def due_off(store: Store, shop: Shop, item: Item, at: datetime) -> datetime:
    """When a hold that begins at `at` is up: after the hours of its own fit, else the shop's."""
    hold_h = fits.get(store, item.fit_id).hold_h if item.fit_id else shop.hold_h
    return at + timedelta(hours=hold_h)


def typed_length(text: str, unit: str, field: str, what: str = "boot") -> Length | None:
    """A typed length, None where the field is empty. what: a girth of the boot, or a height.

    Raises BadReading at the field.
    """
    return read_length(text, unit, field, what) if text.strip() else None
