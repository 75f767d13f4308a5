"""Each step of an item, from its form as it was sent to one call of the desk."""

from __future__ import annotations

from collections.abc import Callable

from flask import g

from fitcounter.desk.bench import (
    arrive_done_shelve,
    catch_up_skipped_steps,
    damage_seen_at_bench,
    incidents,
    put_on_turn_up_take_off,
    undo_step,
    wait_and_go_on,
)
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.translation import say
from fitcounter.desk.plan import plan_changes
from fitcounter.desk.rounds import rested_reading
from fitcounter.desk.shop import Written
from fitcounter.errors import BadInput
from fitcounter.web.bench import step_forms as forms
from fitcounter.web.bench.filled_in_step import take_instead
from fitcounter.web.guards.access import act, store, the_shop


def _put_on(item_id: int, form: forms.PutOnForm) -> Written:
    girth = form.on_tree.data or (form.planned.data if form.read_as.data == "planned" else "")
    take_instead(form)
    typed = put_on_turn_up_take_off.PutOn(
        form.tree.data,
        form.setting.data,
        girth,
        form.before.data,
        form.method.data or "outside",
        form.mark.data,
        form.pads.data,
        form.prepared.data or "",
        form.override_why.data or "",
        bool(form.take_tree.data),
        form.read_as.data == "later",
        form.shift.data or "",
        form.on_anyway.data or "",
        form.other_off.data or "",
    )
    return put_on_turn_up_take_off.put_on(store(), act(), the_shop(), item_id, form.said(), typed)


def _leave_on(item_id: int, form: forms.LeaveOnForm) -> Written:
    until = read_day(form.until.data, the_shop().today(g.now), "until")
    if until is None:
        raise BadInput(say("Type the day the boot comes off."), field="until")
    return plan_changes.leave_on(
        store(), act(), the_shop(), item_id, form.said(), until, bool(form.confirmed.data)
    )


def _pickup_day(item_id: int, form: forms.PickupDayForm) -> Written:
    day = read_day(form.day.data, the_shop().today(g.now), "day")
    return plan_changes.set_pickup_day(store(), act(), the_shop(), item_id, day, form.seen_version)


def _measure(item_id: int, form: forms.RestedReadingForm) -> Written:
    reading = rested_reading.RestedReading(
        form.rested.data,
        form.method.data or "",
        form.off_at(),
        bool(form.tape_right.data),
        form.again.data == "instead",
    )
    return rested_reading.measure_again(store(), act(), the_shop(), item_id, form.said(), reading)


def _undo(item_id: int, form: forms.UndoForm) -> Written:
    seen = form.step_id.data or ""
    if not (seen.isascii() and seen.isdigit() and len(seen) < 12):
        raise BadInput(
            say("Open the page of this item again, then undo the last step."),
            typed=seen,
            field="step_id",
        )
    return undo_step.undo(store(), act(), the_shop(), item_id, int(seen))


SAVE: dict[str, Callable[..., Written]] = {
    "arrive": lambda i, f: arrive_done_shelve.arrive(store(), act(), i, f.said()),
    "prepare": lambda i, f: put_on_turn_up_take_off.prepare(
        store(), act(), i, f.said(), f.prepared.data or "", f.prepared_with.data
    ),
    "put-on": _put_on,
    "turn-up": lambda i, f: put_on_turn_up_take_off.turn_up(
        store(),
        act(),
        the_shop(),
        i,
        f.said(),
        f.girth.data,
        f.setting.data,
        f.override_why.data or "",
    ),
    "take-off": lambda i, f: put_on_turn_up_take_off.take_off(
        store(), act(), i, f.said(early=f.early.data or ""), f.came_out.data or ""
    ),
    "measure-again": _measure,
    "another-round": lambda i, f: arrive_done_shelve.another_round(store(), act(), i, f.said()),
    "done": lambda i, f: arrive_done_shelve.done(store(), act(), i, f.said()),
    "finish": lambda i, f: arrive_done_shelve.finish(store(), act(), i, f.said(), f.shaper.data),
    "shelve": lambda i, f: arrive_done_shelve.shelve(
        store(), act(), i, f.said(), f.shelf.data, f.shaper.data
    ),
    "start-work": lambda i, f: arrive_done_shelve.start_work(store(), act(), i, f.said()),
    "work-done": lambda i, f: arrive_done_shelve.work_done(
        store(), act(), i, f.said(), f.shelf.data
    ),
    "wait": lambda i, f: wait_and_go_on.wait(
        store(), act(), i, f.said(), f.waits_for.data or "", f.waits_what.data or ""
    ),
    "go-on": lambda i, f: wait_and_go_on.go_on(store(), act(), i, f.said()),
    "stop": lambda i, f: incidents.stop(store(), act(), i, f.said(), f.what.data, f.where_on.data),
    "further": lambda i, f: catch_up_skipped_steps.further_along(
        store(), act(), the_shop(), i, f.state.data or "", f.said(), f.tree.data or ""
    ),
    "finding": lambda i, f: damage_seen_at_bench.see(
        store(), act(), i, f.said(), f.fault.data or f.word.data or "", f.place.data, f.note.data
    ),
    "leave-on": _leave_on,
    "pickup-day": _pickup_day,
    "undo": _undo,
}
