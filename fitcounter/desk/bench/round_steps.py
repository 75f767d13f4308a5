"""The steps of one round at the bench: prepare, put on a tree, turn up, take off, measure again.

Each is one call, one transaction, one row of the audit, with the time it happened beside the time
it was saved. What a step wrote can be taken back while it is the last (`undoing`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from fitcounter.desk.bench import round_checks, tree_bookings
from fitcounter.desk.common.item_steps import Said, skipped, take_step, write_step
from fitcounter.desk.measuring.sheet import read_length
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, BadReading
from fitcounter.fit.assessment.one_round import counts_from
from fitcounter.fit.tape import Length
from fitcounter.store import fits, items, rounds, trees
from fitcounter.store.bench_records import Round, TreeRow
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

PREPARED = (("conditioned", "Conditioned"), ("dry", "Dry, as it is"))
METHODS = (
    ("outside", "Outside tape at the mark"),
    ("inside", "Inside tape at the mark"),
    ("flat", "Laid flat, at the mark"),
)
CAME_OUT = (("dropped", "It dropped out"), ("eased", "It eased out"), ("gripped", "It gripped"))


@dataclass(frozen=True, slots=True)
class PutOn:
    """What was typed when a boot went on a tree. Lengths as typed; empty: not read. tree: its
    label.

    override_why: the reason picked where a limit is passed. take_tree: although it is booked for
    another boot. unread: it was said that the girth on the tree is not read yet.
    """

    tree: str
    setting: str = ""
    on_tree: str = ""
    before: str = ""
    method: str = "outside"
    mark: str = ""
    pads: str = ""
    prepared: str = ""
    override_why: str = ""
    take_tree: bool = False
    unread: bool = True


def prepare(
    store: Store, act: Act, item_id: int, said: Said, prepared: str, prepared_with: str
) -> Written:
    """Prepared for a round: conditioned (and with what), or dry as it is."""
    if prepared not in dict(PREPARED):
        raise BadInput("Say how it was prepared: conditioned, or dry as it is.", field="prepared")

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        turn = begin_round(writes, item)
        writes.change(
            "rounds",
            turn.id,
            prepared=prepared,
            prepared_with=prepared_with,
            prepared_at=utc_text(said.happened_at),
        )
        return {"round": turn.n, "prepared": prepared}

    return bench_step(store, act, item_id, "prepare", said, work)


def put_on(store: Store, act: Act, shop: Shop, item_id: int, said: Said, typed: PutOn) -> Written:
    """Put on a tree.

    Raises BadReading, BadInput (a tree that will not do) and the questions of `round_checks`.
    """
    on_tree = read(typed.on_tree, shop.unit, "on_tree")
    before = read(typed.before, shop.unit, "before")
    mark = read(typed.mark, shop.unit, "mark", "height")

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        tree = named_tree(store, typed.tree)
        turn = begin_round(writes, item)
        round_checks.follows(said.happened_at, turn.prepared_at, "It was prepared")
        mark_um = mark.um if mark else turn.mark_um or item.mark_um
        trying = round_checks.Trying(
            item, turn, tree, typed.method, before, on_tree, mark_um, typed.override_why
        )
        round_checks.tree_serves(store, trying)
        round_checks.is_read(trying, typed.setting, typed.unread)
        round_checks.opens(shop, trying)
        round_checks.within_limits(store, shop, trying)
        due_at = said.happened_at + timedelta(hours=hold_of(store, shop, item))
        tree_bookings.claim(
            store, shop, item, turn.n, tree, said.happened_at, due_at, typed.take_tree
        )
        columns: dict[str, object] = {
            "tree_id": tree.id,
            "pads": typed.pads,
            "method": typed.method,
            "mark_um": mark_um,
        }
        if before:
            columns |= {
                "before_um": before.um,
                "before_text": before.text,
                "before_unit": before.unit,
            }
        if typed.prepared:
            columns["prepared"] = typed.prepared
        writes.change(
            "rounds",
            turn.id,
            **columns,
            on_at=utc_text(said.happened_at),
            due_off_at=utc_text(due_at),
        )
        if typed.override_why:
            writes.change("rounds", turn.id, override_why=typed.override_why)
        if mark_um and item.mark_um is None:
            writes.change("items", item.id, mark_um=mark_um)
        write_turn(
            store,
            act,
            writes,
            item,
            turn,
            tree,
            said.happened_at,
            on_tree,
            typed.setting,
            mark_um,
            typed.pads,
            typed.method,
        )
        told = {
            "round": turn.n,
            "tree": tree.label,
            "setting": typed.setting,
            "over": typed.override_why,
        }
        return {**told, "on_tree_um": on_tree.um if on_tree else None}

    return bench_step(store, act, item_id, "put-on", said, work)


def turn_up(
    store: Store,
    act: Act,
    shop: Shop,
    item_id: int,
    said: Said,
    girth: str,
    setting: str,
    override_why: str = "",
) -> Written:
    """Turned up: a girth on the tree, a setting, or both. The hold counts from here."""
    on_tree = read(girth, shop.unit, "girth")
    if on_tree is None and not setting:
        raise BadInput(
            "Type what the tape reads now, or the new setting of the tree.", field="girth"
        )

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        turn = running_round(writes, item)
        turns = rounds.turns(store, turn.id)
        round_checks.follows(
            said.happened_at,
            turns[-1].at if turns else turn.on_at,
            "It was last turned up" if turns else "It went on the tree",
        )
        tree = trees.get(store, turn.tree_id) if turn.tree_id else None
        trying = round_checks.Trying(
            item,
            turn,
            tree,
            turn.method,
            stored_before(turn),
            on_tree,
            turn.mark_um,
            override_why,
            field="girth",
        )
        round_checks.opens(shop, trying)
        round_checks.within_limits(store, shop, trying)
        due_at = said.happened_at + timedelta(hours=hold_of(store, shop, item))
        writes.change("rounds", turn.id, due_off_at=utc_text(due_at))
        if override_why:
            writes.change("rounds", turn.id, override_why=override_why)
        if tree:
            tree_bookings.stretch(store, shop, item, turn, due_at)
        write_turn(
            store,
            act,
            writes,
            item,
            turn,
            tree,
            said.happened_at,
            on_tree,
            setting,
            turn.mark_um,
            turn.pads,
            turn.method,
        )
        return {
            "round": turn.n,
            "on_tree_um": on_tree.um if on_tree else None,
            "setting": setting,
            "over": override_why,
        }

    return bench_step(store, act, item_id, "turn-up", said, work)


def take_off(store: Store, act: Act, item_id: int, said: Said, came_out: str = "") -> Written:
    """Off the tree, with how it came out where that was seen.

    Raises BadInput for a time before it went on.
    """

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        return off_the_tree(store, writes, item, said.happened_at, came_out)

    return bench_step(store, act, item_id, "take-off", said, work)


def measure_again(
    store: Store,
    act: Act,
    shop: Shop,
    item_id: int,
    said: Said,
    rested: str,
    method: str = "",
    off_at: datetime | None = None,
    tape_right: bool = False,
) -> Written:
    """The rested reading. Before 24 h off the tree it is kept and marked, does not count, and the
    boot goes on resting.

    off_at: when it came off, where that was never saved (with said.catch_up). tape_right: a boot
    that is smaller than before it went on, or wider than on the tree, was read twice. Raises
    BadReading (field tape_right: a question) until then.
    """
    reading = read(rested, shop.unit, "rested")
    if reading is None:
        raise BadReading("Type what the tape reads at the mark, rested.", field="rested")

    def write() -> Written:
        item, then = items.get(store, item_id), said
        writes = Writes(store, item, said.columns)
        if item.state == "on-tree" and said.catch_up and off_at is not None:
            off = off_the_tree(store, writes, item, off_at, "")
            write_step(store, act, item, "take-off", Said(off_at, version=said.version, detail=off))
            item, then = items.get(store, item_id), Said(said.happened_at, said.catch_up, None)
        turn = read_round(writes, item)
        round_checks.follows(said.happened_at, turn.off_at, "It came off the tree")
        if not tape_right:
            round_checks.not_smaller(turn, reading, method or turn.method)
            round_checks.not_wider(
                turn, rounds.turns(store, turn.id), reading, method or turn.method
            )
        early = (
            turn.off_at is not None
            and said.happened_at < counts_from(utc_time(turn.off_at))
            and item.state == "resting"
        )
        step = "early-reading" if early else "measure-again"
        missed = skipped(item, step, said.catch_up)
        columns = {
            "rested_um": reading.um,
            "rested_text": reading.text,
            "rested_unit": reading.unit,
        }
        columns |= {
            "rested_method": method or turn.method,
            "rested_at": utc_text(said.happened_at),
            "rested_counts": int(not early),
        }
        writes.change("rounds", turn.id, **columns)
        writes.keep(step)
        detail = {"round": turn.n, "rested_um": reading.um, "counts": not early}
        return write_step(
            store,
            act,
            item,
            step,
            Said(then.happened_at, then.catch_up, then.version, detail),
            missed,
        )

    return store.once(act, "measure-again", write)


def bench_step(
    store: Store,
    act: Act,
    item_id: int,
    step: str,
    said: Said,
    work: Callable[[Item, Writes], dict[str, Any]],
) -> Written:
    """One step that can be taken back: `work` writes through `writes` and returns its detail."""

    def write(item: Item) -> dict[str, Any]:
        writes = Writes(store, item, said.columns)
        detail = work(item, writes)
        writes.keep(step)
        return detail

    return take_step(store, act, item_id, step, said, write)


def off_the_tree(
    store: Store, writes: Writes, item: Item, at: datetime, came_out: str
) -> dict[str, Any]:
    """The writes of taking off, inside a step."""
    if came_out and came_out not in dict(CAME_OUT):
        raise BadInput(
            "Say how it came out: dropped, eased or gripped.", field="came_out", typed=came_out
        )
    turn = running_round(writes, item)
    turns = rounds.turns(store, turn.id)
    if turn.on_at != utc_text(at):
        round_checks.follows(at, turn.on_at, "It went on the tree")
        round_checks.follows(at, turns[-1].at if turns else None, "It was turned up")
    writes.change("rounds", turn.id, off_at=utc_text(at), came_out=came_out)
    tree_bookings.release(store, item)
    return {"round": turn.n, "came_out": came_out}


def begin_round(writes: Writes, item: Item) -> Round:
    """The round that is being prepared, or the next one."""
    found = rounds.last(writes.store, item.id)
    if found is not None and found.on_at is None and found.off_at is None and not found.outcome:
        return found
    return _new_round(writes, item, found)


def running_round(writes: Writes, item: Item) -> Round:
    """The round on the tree; where it was never saved, one without readings, so that it counts as
    lived.
    """
    found = rounds.last(writes.store, item.id)
    if found is not None and found.off_at is None and not found.outcome:
        return found
    return _new_round(writes, item, found)


def read_round(writes: Writes, item: Item) -> Round:
    """The round whose rested reading this is: the last one, or one that was never saved."""
    found = rounds.last(writes.store, item.id)
    return found if found is not None and not found.outcome else _new_round(writes, item, found)


def _new_round(writes: Writes, item: Item, previous: Round | None) -> Round:
    method = previous.method if previous else "outside"
    mark_um = previous.mark_um if previous else item.mark_um
    number = previous.n + 1 if previous else 1
    writes.insert("rounds", item_id=item.id, n=number, method=method, mark_um=mark_um)
    found = rounds.last(writes.store, item.id)
    assert found is not None
    return found


def write_turn(
    store: Store,
    act: Act,
    writes: Writes,
    item: Item,
    turn: Round,
    tree: TreeRow | None,
    at: datetime,
    girth: Length | None,
    setting: str,
    mark_um: int | None,
    pads: str,
    method: str,
) -> None:
    """One turn of the screw; with a setting and a girth it is a reading of the tree as well."""
    if girth is None and not setting:
        return
    milli = tree_bookings.setting_milli(setting)
    columns: dict[str, object] = (
        {"girth_um": girth.um, "girth_text": girth.text, "unit": girth.unit} if girth else {}
    )
    number = len(rounds.turns(store, turn.id)) + 1
    writes.insert(
        "turns",
        round_id=turn.id,
        n=number,
        at=utc_text(at),
        **columns,
        setting_text=setting,
        setting_milli=milli,
        staff_id=act.staff_id,
    )
    if tree is not None and girth is not None and milli is not None and mark_um is not None:
        inside_um = tree_bookings.inside_um(item, girth, method)
        row = {
            "tree_id": tree.id,
            "setting_milli": milli,
            "height_um": mark_um,
            "girth_um": inside_um,
            "pads": pads,
        }
        writes.insert(
            "tree_calibration", **row, source="on-boot", read_at=utc_text(at), staff_id=act.staff_id
        )


def named_tree(store: Store, label: str) -> TreeRow:
    """The tree with this label. Raises BadInput."""
    found = trees.by_label(store, label.strip())
    if found is None:
        raise BadInput(
            "There is no tree with that label. Pick one from the list, or add it under Trees.",
            typed=label,
            field="tree",
        )
    return found


def stored_before(turn: Round) -> Length | None:
    """A round's first reading as a length."""
    return (
        None
        if turn.before_um is None
        else Length(round_checks.exact_mm(turn.before_um), turn.before_text, turn.before_unit)
    )


def hold_of(store: Store, shop: Shop, item: Item) -> int:
    """Hours a boot is held: its own fit's, else the shop's."""
    return fits.get(store, item.fit_id).hold_h if item.fit_id else shop.hold_h


def read(text: str, unit: str, field: str, what: str = "boot") -> Length | None:
    """A typed length, None where the field is empty. what: a girth of the boot, or a height."""
    return read_length(text, unit, field, what) if text.strip() else None
