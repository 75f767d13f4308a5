"""An item: what its tag opens, its page with the next step, and the bench's steps as forms."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from flask import Blueprint, current_app, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.bench import (
    corrections,
    incident_steps,
    item_page,
    other_steps,
    plan_changes,
    ready_day,
    rested_reading,
    round_checks,
    round_steps,
)
from fitcounter.desk.bench import findings as bench_findings
from fitcounter.desk.bench.decision import Decision, decision
from fitcounter.desk.bench.pair_repeat import same_for_other
from fitcounter.desk.bench.tree_taken import SWAP, TreeTaken
from fitcounter.desk.common.condition import what_happened
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.shop import Written
from fitcounter.desk.tags import resolve as tags_resolve
from fitcounter.errors import BadInput, Conflict, FitCounterError
from fitcounter.fit import item_states
from fitcounter.fit.assessment.stop_rules import SET_SIGNS
from fitcounter.web.bench import step_forms as forms
from fitcounter.web.bench.filled_in_step import (
    FORMS,
    fresh,
    listed,
    named,
    take_instead,
    taken_tree,
)
from fitcounter.web.bench.saved_and_next import saved_line
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import with_pin
from fitcounter.web.items.other_work_form import WorkLineForm

bp = Blueprint("items", __name__)

NAMES = ", ".join(f'"{name}"' for name in FORMS)
# Errors that are a question: a page of its own with the ways on.
QUESTIONS = ("catch_up", "override_why", "take_tree", "on_anyway", "confirmed", "tape_right")


@bp.get("/T/<code>")
@bp.get("/t/<code>")
@allow("anyone")
def tag(code: str) -> Response | str | tuple[str, int]:
    """What a tag opens: the item or the tree; for a stranger the shop's name and phone and nothing
    else.
    """
    if g.signed_in is None:
        return render_template("items/stranger.html", the_shop=the_shop())
    target = tags_resolve.target_of(store(), code)
    if target.retired:
        return render_template("items/retired_tag.html", target=target), 410
    if target.tree_id is not None:
        return redirect(url_for("bench.tree", tree_id=target.tree_id), 303)
    if target.item_id is None:
        return render_template("items/free_tag.html", target=target)
    return item(target.item_id)


@bp.get("/items/<int:item_id>")
@allow(*STAFF)
def item(item_id: int) -> str:
    """Where it stands, the next step, what it has been through.

    ?do=: another step's form is open; ?did=: the one just saved.
    """
    wanted = request.args.get("do", "")
    return page(item_id, wanted if wanted in FORMS and wanted != "undo" else "")


@bp.post(f"/items/<int:item_id>/<any({NAMES}):step>")
@allow(*STAFF)
@with_pin("override_why")
def take(item_id: int, step: str) -> Response | tuple[str, int]:
    """One step.

    What does not follow asks on a page of its own; what cannot be read comes back as it was typed.
    """
    form = named(FORMS[step](), step)
    try:
        if not form.validate():
            return page(item_id, step, form), 422
        RUN[step](item_id, form)
    except FitCounterError as error:
        if step == "undo" or getattr(error, "theirs", None):
            raise  # a button alone has no place for a sentence; both texts have a page of their own
        taken, code = taken_tree(item_id, form, error), 409 if isinstance(error, Conflict) else 422
        if (taken or error.field in QUESTIONS) and form.validate():
            return question(item_id, step, error, taken), code
        form.take(error)
        return page(item_id, step, form), code
    if request.form.get("back") == "stand":
        return redirect(url_for("bench.stand", did=item_id, step=step), 303)
    return redirect(url_for("items.item", item_id=item_id, did=step), 303)


def page(
    item_id: int,
    opened: str = "",
    form: SavedForm | None = None,
    work_form: WorkLineForm | None = None,
) -> str:
    """The item's page. work_form: of one job on it, as it was sent.

    opened: the step whose form is open, with what was typed; the next step's stands ready behind
    its button.
    """
    look = item_page.look(store(), the_shop(), item_id)
    if form is not None:
        # the page shows what is there now; saved again, it is meant so
        form.version.data = str(
            look.ticket.version if opened == "pickup-day" else look.item.version
        )
    today = the_shop().today(g.now)
    asked = decision(store(), the_shop(), look, today)
    step = item_page.step_now(look, the_shop(), g.now)
    did = request.args.get("did", "")
    same = same_for_other(look, the_shop(), did)
    when = ready_day.of_item(store(), the_shop(), look.item, look.ticket, today)
    return render_template(
        "items/item.html",
        look=look,
        ready_words=when.words(spoken()),
        step=step,
        early=item_page.comes_off_early(look, the_shop(), g.now),
        forms=_forms(look, step.name if step else "", opened, form, asked),
        opened=opened,
        work_form=work_form or WorkLineForm(formdata=None),
        item=look.item,
        same=same,
        saved=saved_line(look, the_shop(), did, asked) if did in FORMS else "",
        decision=asked,
        **words(),
    )


def _forms(
    look: item_page.Look, step: str, opened: str, form: SavedForm | None, asked: Decision | None
) -> dict[str, SavedForm]:
    """The forms that stand on the page, by step; the opened one with what was typed."""
    steps = [step, "undo" if look.undo_step else "", opened]
    steps += [way.step.name for way in asked.ways] if asked else []
    return {
        name: listed(form, look) if name == opened and form else fresh(name, look)
        for name in dict.fromkeys(steps)
        if name in FORMS
    }


def words() -> dict[str, Any]:
    """What the page says of steps, and the instant as it is stored."""
    return {
        "steps": item_states.STEPS,
        "say_finding": bench_findings.say,
        "faults": bench_findings.FAULTS,
        "what_happened": what_happened,
        "endpoints": current_app.view_functions,
        "set_signs": SET_SIGNS,
    }


def question(
    item_id: int, step: str, error: FitCounterError, taken: TreeTaken | None = None
) -> str:
    """The question a step raises, with everything that was typed. taken: the tree will not do."""
    typed = [
        (key, value)
        for key, values in request.form.lists()
        for value in values
        if key
        not in ("csrf_token", error.field, *(("tree", "instead", "other_off") if taken else ()))
    ]
    if taken:
        typed.append(("tree", taken.tree))
    look = item_page.look(store(), the_shop(), item_id)
    return render_template(
        "items/question.html",
        look=look,
        step=step,
        error=error,
        typed=typed,
        reasons=round_checks.REASONS,
        on_anyway=round_checks.ON_ANYWAY,
        taken=taken,
        swap=SWAP,
    )


def _put_on(item_id: int, form: forms.PutOnForm) -> Written:
    girth = form.on_tree.data or (form.planned.data if form.read_as.data == "planned" else "")
    take_instead(form)
    typed = round_steps.PutOn(
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
    return round_steps.put_on(store(), act(), the_shop(), item_id, form.said(), typed)


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
    return corrections.undo(store(), act(), the_shop(), item_id, int(seen))


RUN: dict[str, Callable[..., Written]] = {
    "arrive": lambda i, f: other_steps.arrive(store(), act(), i, f.said()),
    "prepare": lambda i, f: round_steps.prepare(
        store(), act(), i, f.said(), f.prepared.data or "", f.prepared_with.data
    ),
    "put-on": _put_on,
    "turn-up": lambda i, f: round_steps.turn_up(
        store(),
        act(),
        the_shop(),
        i,
        f.said(),
        f.girth.data,
        f.setting.data,
        f.override_why.data or "",
    ),
    "take-off": lambda i, f: round_steps.take_off(
        store(), act(), i, f.said(early=f.early.data or ""), f.came_out.data or ""
    ),
    "measure-again": _measure,
    "another-round": lambda i, f: other_steps.another_round(store(), act(), i, f.said()),
    "done": lambda i, f: other_steps.done(store(), act(), i, f.said()),
    "finish": lambda i, f: other_steps.finish(store(), act(), i, f.said(), f.shaper.data),
    "shelve": lambda i, f: other_steps.shelve(
        store(), act(), i, f.said(), f.shelf.data, f.shaper.data
    ),
    "start-work": lambda i, f: other_steps.start_work(store(), act(), i, f.said()),
    "work-done": lambda i, f: other_steps.work_done(store(), act(), i, f.said(), f.shelf.data),
    "wait": lambda i, f: other_steps.wait(
        store(), act(), i, f.said(), f.waits_for.data or "", f.waits_what.data or ""
    ),
    "go-on": lambda i, f: other_steps.go_on(store(), act(), i, f.said()),
    "stop": lambda i, f: incident_steps.stop(
        store(), act(), i, f.said(), f.what.data, f.where_on.data
    ),
    "further": lambda i, f: corrections.further_along(
        store(), act(), the_shop(), i, f.state.data or "", f.said(), f.tree.data or ""
    ),
    "finding": lambda i, f: bench_findings.see(
        store(), act(), i, f.said(), f.fault.data or f.word.data or "", f.place.data, f.note.data
    ),
    "leave-on": _leave_on,
    "pickup-day": _pickup_day,
    "undo": _undo,
}
