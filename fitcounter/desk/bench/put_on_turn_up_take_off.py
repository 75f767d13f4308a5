"""The steps of one round at the bench: prepare, put on a tree, turn up, take off.

Each is one call, one transaction, one row of the audit, with the time it happened beside the time
it was saved. What a step wrote can be taken back while it is the last (`undoing`).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from fitcounter.desk.bench import another_boot_on_the_tree, other_work, tree_booked_for_another
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.rounds import checks_before_a_round, on_tree_anyway
from fitcounter.desk.rounds.checks_before_a_round import OpeningToCheck, exact_mm
from fitcounter.desk.rounds.round_rows import (
    EARLY,
    TreeReading,
    begin_round,
    bench_step,
    due_off,
    off_the_tree,
    running_round,
    stored_round,
    typed_length,
    write_turn,
)
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.desk.trees.girth_before_round import last_rested
from fitcounter.desk.trees.tree_shift import read_shift_um
from fitcounter.errors import BadInput
from fitcounter.fit.tape import Length
from fitcounter.store import rounds, trees
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

PREPARED = (("conditioned", say_later("Conditioned")), ("dry", say_later("Left dry")))
METHODS = (
    ("outside", say_later("Tape outside, at the mark")),
    ("inside", say_later("Tape inside, at the mark")),
    ("flat", say_later("Laid flat, at the mark")),
)


@dataclass(frozen=True, slots=True)
class PutOn:
    """What was typed when a boot went on a tree. Lengths as typed; empty: not read. tree: its
    label.

    shift: how much higher the tree sits than usual, in micrometres as picked.
    override_why: the reason picked where a limit is passed. take_tree: although it is booked for
    another boot. unread: it was said that the girth on the tree is not read yet.
    on_anyway: the reason picked where its figures keep it off that tree. other_off: the boot that
    comes off that tree for it, or moves, as sent (`another_boot_on_the_tree.free_tree`).
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
    shift: str = ""
    on_anyway: str = ""
    other_off: str = ""


def prepare(
    store: Store, act: Act, item_id: int, step_input: StepInput, prepared: str, prepared_with: str
) -> Written:
    """Prepared for a round: conditioned (and with what), or dry as it is. Raises BadInput."""
    if prepared not in dict(PREPARED):
        raise BadInput(
            say("Pick how the boot was prepared: conditioned or left dry."), field="prepared"
        )

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        beginning = begin_round(writes, item)
        writes.change(
            "rounds",
            beginning.id,
            prepared=prepared,
            prepared_with=prepared_with,
            prepared_at=utc_text(step_input.happened_at),
        )
        return {"round": beginning.n, "prepared": prepared}

    return bench_step(store, act, item_id, "prepare", step_input, work)


def put_on(
    store: Store, act: Act, shop: Shop, item_id: int, step_input: StepInput, typed: PutOn
) -> Written:
    """Put on a tree.

    Raises BadReading, BadInput (a tree that will not do), the questions of `checks_before_a_round`.
    """
    on_tree = typed_length(typed.on_tree, shop.unit, "on_tree")
    read_before = typed_length(typed.before, shop.unit, "before")
    mark = typed_length(typed.mark, shop.unit, "mark", "height")
    at = step_input.happened_at

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        other_work.first_done(store, act, writes, item, step_input)
        tree = tree_bookings.named_tree(store, typed.tree)
        if typed.other_off:
            another_boot_on_the_tree.free_tree(store, act, shop, item, tree, at, typed.other_off)
        beginning = begin_round(writes, item)
        mark_um = mark.um if mark else beginning.mark_um or item.mark_um
        opening = OpeningToCheck(
            item=item,
            round_row=beginning,
            tree=tree,
            method=typed.method,
            before=read_before or last_rested(store, item_id, typed.method, mark_um),
            before_read=read_before is not None,
            on_tree=on_tree,
            mark_um=mark_um,
            shift_um=read_shift_um(typed.shift, tree),
            pads=typed.pads,
            override_why=typed.override_why,
            on_anyway=typed.on_anyway,
        )
        _check_put_on(store, shop, opening, typed, at)
        due_at = due_off(store, shop, item, at)
        if not typed.take_tree:
            tree_booked_for_another.ask(store, shop, act.at, item, tree, (at, due_at))
        tree_bookings.book(store, shop, item, beginning.n, tree, (at, due_at))
        _write_put_on(writes, opening, typed, at, due_at)
        running = stored_round(writes, item)
        write_turn(act, writes, running, TreeReading(at, on_tree, typed.setting))
        on_tree_anyway.calibrate(act, writes, opening)
        return {"tree": tree.label, **_opened(running, opening, typed.setting)}

    return bench_step(store, act, item_id, "put-on", step_input, work)


def turn_up(
    store: Store,
    act: Act,
    shop: Shop,
    item_id: int,
    step_input: StepInput,
    girth: str,
    setting: str,
    override_why: str = "",
) -> Written:
    """Turned up: a girth on the tree, a setting, or both. The hold counts from here.

    Raises BadReading, BadInput and the questions of `checks_before_a_round`.
    """
    on_tree = typed_length(girth, shop.unit, "girth")
    if on_tree is None and not setting:
        raise BadInput(
            say("Type what the tape reads now, or the new setting of the tree."), field="girth"
        )
    at = step_input.happened_at

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        running = running_round(writes, item)
        opening = _opening_on_tree(store, item, running, on_tree, override_why)
        _after_last_turn(store, running, at)
        checks_before_a_round.opens(opening)
        checks_before_a_round.within_limits(store, shop, opening)
        due_at = due_off(store, shop, item, at)
        writes.change("rounds", running.id, due_off_at=utc_text(due_at))
        if override_why:
            writes.change("rounds", running.id, override_why=override_why)
        tree_bookings.stretch(store, shop, item, running, due_at)
        write_turn(act, writes, running, TreeReading(at, on_tree, setting))
        return _opened(running, opening, setting)

    return bench_step(store, act, item_id, "turn-up", step_input, work)


def take_off(
    store: Store, act: Act, item_id: int, step_input: StepInput, came_out: str = ""
) -> Written:
    """Off the tree, with how it came out where that was seen. step_input: `early` in its detail is
    a code of EARLY, why it comes off before its day.

    Raises BadInput for a time before it went on, and for another reason.
    """
    early = step_input.detail.get("early")
    if early and early not in dict(EARLY):
        raise BadInput(say("Pick why it comes off early."), field="early", typed=early)

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        return off_the_tree(store, writes, item, step_input.happened_at, came_out)

    return bench_step(store, act, item_id, "take-off", step_input, work)


def _check_put_on(
    store: Store, shop: Shop, opening: OpeningToCheck, typed: PutOn, at: datetime
) -> None:
    checks_before_a_round.follows(
        at,
        opening.round_row.prepared_at,
        say("The boot was prepared after that time. Type a later time."),
    )
    checks_before_a_round.tree_serves(store, shop, opening)
    checks_before_a_round.is_read(opening, typed.setting, typed.unread)
    checks_before_a_round.opens(opening)
    checks_before_a_round.within_limits(store, shop, opening)


def _write_put_on(
    writes: Writes, opening: OpeningToCheck, typed: PutOn, at: datetime, due_at: datetime
) -> None:
    columns: dict[str, object] = {
        "tree_id": opening.tree.id if opening.tree else None,
        "pads": typed.pads,
        "shift_um": opening.shift_um,
        "method": typed.method,
        "mark_um": opening.mark_um,
        "on_at": utc_text(at),
        "due_off_at": utc_text(due_at),
    }
    if before := opening.before:
        columns |= {
            "before_um": before.um,
            "before_text": before.text if opening.before_read else "",
            "before_unit": before.unit,
            "before_read": int(opening.before_read),
        }
    if typed.prepared:
        columns["prepared"] = typed.prepared
    if typed.override_why or opening.on_anyway:
        columns["override_why"] = typed.override_why or opening.on_anyway
    writes.change("rounds", opening.round_row.id, **columns)
    if opening.mark_um and opening.item.mark_um is None:
        writes.change("items", opening.item.id, mark_um=opening.mark_um)


def _opening_on_tree(
    store: Store, item: Item, running: Round, on_tree: Length | None, override_why: str
) -> OpeningToCheck:
    """A further opening of a boot that is on its tree."""
    return OpeningToCheck(
        item=item,
        round_row=running,
        tree=trees.get(store, running.tree_id) if running.tree_id else None,
        method=running.method,
        before=_stored_before(running),
        on_tree=on_tree,
        mark_um=running.mark_um,
        override_why=override_why,
        field="girth",
        shift_um=running.shift_um,
        pads=running.pads,
    )


def _after_last_turn(store: Store, running: Round, at: datetime) -> None:
    turns = rounds.turns(store, running.id)
    if turns:
        checks_before_a_round.follows(
            at, turns[-1].at, say("The tree was turned up after that time. Type a later time.")
        )
    else:
        checks_before_a_round.follows(
            at, running.on_at, say("The boot went on the tree after that time. Type a later time.")
        )


def _opened(running: Round, opening: OpeningToCheck, setting: str) -> dict[str, Any]:
    """The detail of a step that opened a boot."""
    return {
        "round": running.n,
        "on_tree_um": opening.on_tree.um if opening.on_tree else None,
        "setting": setting,
        "over": opening.override_why,
        **({"shift_um": opening.shift_um} if opening.shift_um else {}),
        **({"anyway": opening.on_anyway} if opening.on_anyway else {}),
    }


def _stored_before(running: Round) -> Length | None:
    if running.before_um is None:
        return None
    return Length(exact_mm(running.before_um), running.before_text, running.before_unit)
