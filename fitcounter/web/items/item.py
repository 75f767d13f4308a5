"""An item: what its tag opens, its page with the next step, and the bench's steps as forms."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, current_app, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.bench import damage_seen_at_bench, item_page
from fitcounter.desk.bench.another_boot_on_the_tree import SWAP, TreeTaken
from fitcounter.desk.bench.another_round_or_done import Decision, decision
from fitcounter.desk.bench.same_on_other_boot import same_for_other
from fitcounter.desk.common.seen_at_intake import what_happened
from fitcounter.desk.common.translation import spoken
from fitcounter.desk.front_desk import photos_by_view
from fitcounter.desk.plan import ready_day
from fitcounter.desk.rounds import checks_before_a_round
from fitcounter.desk.tags import scanned_or_typed
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.fit import item_states
from fitcounter.fit.assessment.no_further_round import SET_SIGNS
from fitcounter.web.bench.filled_in_step import (
    FORMS,
    fresh,
    listed,
    named,
    taken_tree,
)
from fitcounter.web.bench.saved_and_next import saved_line
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import STAFF, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import with_pin
from fitcounter.web.items.other_work_form import WorkLineForm
from fitcounter.web.items.step_as_sent import SAVE

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
    target = scanned_or_typed.target_of(store(), code)
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
        SAVE[step](item_id, form)
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
    with store().one_moment():
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
        days = ready_day.ready_days(store(), the_shop(), today, [look.ticket.id])
    return render_template(
        "items/item.html",
        look=look,
        ready_words=days.of_item(look.item, look.ticket, look.held).words(spoken()),
        step=step,
        early=item_page.comes_off_early(look, the_shop(), g.now),
        forms=_forms(look, step.name if step else "", opened, form, asked),
        opened=opened,
        work_form=work_form or (WorkLineForm(formdata=None) if look.work else None),
        item=look.item,
        views=photos_by_view.by_view(look.photos),
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
        "say_finding": damage_seen_at_bench.say,
        "faults": damage_seen_at_bench.FAULTS,
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
        reasons=checks_before_a_round.REASONS,
        on_anyway=checks_before_a_round.ON_ANYWAY,
        taken=taken,
        swap=SWAP,
    )
