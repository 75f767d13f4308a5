"""The bench: what is to be done, trees and what is on them, and the scanner that stays open."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.bench import board, item_page, put_on_turn_up_take_off
from fitcounter.desk.bench.another_round_or_done import decision
from fitcounter.desk.bench.board import BoardRow, entries
from fitcounter.desk.bench.next_boot_same_step import STEPS, due, next_due, step_of_row
from fitcounter.desk.bench.pair_in_one_row import together
from fitcounter.desk.bench.same_on_other_boot import Same, same_for_other
from fitcounter.desk.common import item_words
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import ready_day
from fitcounter.desk.tags import scanned_or_typed
from fitcounter.desk.trees.tree_choice_page import choice_page
from fitcounter.errors import FitCounterError, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.web.bench.filled_in_step import FORMS, filled, fresh
from fitcounter.web.bench.saved_and_next import saved_line
from fitcounter.web.bench.step_forms import OffForm
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop
from fitcounter.web.pages.filters import day

bp = Blueprint("bench", __name__)


@bp.get("/bench")
@allow(*STAFF)
def bench() -> str:
    """The queue in the order of work, and every tree."""
    ready_words = ready_day.words_by_item(store(), the_shop(), the_shop().today(g.now))
    seen = board.board(store(), the_shop(), g.now)
    return render_template(
        "bench/bench.html",
        board=seen,
        on_trees=board.on_trees(seen),
        ready_words=ready_words,
        together=together,
        says=lambda row: f"{row.jobs}{row.shelf}{ready_words.get(row.id)}",
        stands=lambda row: item_words.stands(row, row.problem),
        several={step: len(due(seen, step, g.now)) > 1 for step in STEPS},
    )


@bp.get("/bench/choice/<int:item_id>")
@allow(*STAFF)
def choice(item_id: int) -> str:
    """Every tree for this boot's next round: what it would do at every height, or in one sentence
    why not.
    """
    return render_template("bench/tree_choice.html", seen=choice_page(store(), the_shop(), item_id))


@bp.get("/bench/stand")
@allow(*STAFF)
def stand() -> str:
    """The phone on its stand: scan a boot, scan a tree, save.

    ?did, ?step: what was just saved; ?do: the step that is done with boot after boot.
    """
    scanned = scanned_or_typed.scan(
        store(), request.args.get("scan", ""), request.args.get("boot", type=int)
    )
    look = item_page.look(store(), the_shop(), scanned.boot.id) if scanned.boot else None
    step = _step_offered(scanned, look)
    forms: dict[str, SavedForm] = {}
    if look and step and step.name in FORMS:
        forms[step.name] = filled(step.name, look, scanned.tree.label if scanned.tree else "")
    saved = _saved()
    return render_template(
        "bench/scanning.html",
        scanned=scanned,
        look=look,
        step=step,
        early=item_page.comes_off_early(look, the_shop(), g.now) if look else False,
        forms=forms,
        **saved,
        **_in_a_row(saved["saved"], saved["same"]),
        on_it=board.tree(store(), the_shop(), scanned.tree.id).on_it if scanned.tree else None,
    )


def _step_offered(
    scanned: scanned_or_typed.ScanResult, look: item_page.Look | None
) -> item_states.Step | None:
    """Putting on, where boot and tree are both there; else the step asked for, where it follows, or
    the next one.
    """
    if scanned.put_on:
        return item_states.STEPS["put-on"]
    asked = item_states.STEPS.get(request.args.get("do", ""))
    if look is None:
        return None
    if asked and item_states.may(look.item.state, asked.name):
        return asked
    return item_page.step_now(look, the_shop(), g.now)


@bp.route("/bench/off", methods=["GET", "POST"])
@allow(*STAFF)
def off() -> Response | tuple[str, int]:
    """Many boots off, one after another: each scan takes one off and keeps the field open."""
    form, boot = OffForm(), None
    if form.validate_on_submit():
        try:
            boot = scanned_or_typed.scanned_boot(store(), form.scan.data)
            _take_off(boot)
            return redirect(
                url_for("bench.off", taken=",".join([str(boot.id), *form.before()])), 303
            )
        except FitCounterError as error:
            asked = (
                isinstance(error, OutOfOrder) and boot is not None
            )  # the question has its answers on the boot's own page
            error.field = "scan"
            form.take(scanned_or_typed.not_on_a_tree(boot) if asked and boot else error)
    if not form.is_submitted():
        form.taken.data = request.args.get("taken", "")
    taken = entries(store(), form.before())
    page = render_template("bench/several_off.html", form=form, taken=taken, boot=boot)
    return page, 422 if form.errors else 200


def _take_off(boot: BoardRow) -> None:
    """Raises BadInput where it comes off on a later day."""
    look = item_page.look(store(), the_shop(), boot.id)
    if look.comes_off and item_page.comes_off_early(look, the_shop(), g.now):
        raise scanned_or_typed.comes_off_later(boot, day(look.comes_off.date()))
    put_on_turn_up_take_off.take_off(store(), act(), boot.id, StepInput(g.now))


def _saved() -> dict[str, Any]:
    """The item of the step just saved, what is true of it now, its step to undo, and the same for
    its other boot.
    """
    item_id = request.args.get("did", type=int)
    saved = entries(store(), [str(item_id)]) if item_id else []
    if not saved:
        return {"saved": None, "same": None}
    step = request.args.get("step", "")
    look = item_page.look(store(), the_shop(), saved[0].id)
    asked = decision(store(), the_shop(), look, the_shop().today(g.now))
    return {
        "saved": saved[0],
        "saved_look": look,
        "saved_line": saved_line(look, the_shop(), step, asked),
        "decision": asked,
        "decide_forms": {
            way.step.name: fresh(way.step.name, look) for way in (asked.ways if asked else ())
        },
        "undo_step": look.undo_step,
        "undo_form": fresh("undo", look) if look.undo_step else None,
        "same": same_for_other(look, the_shop(), step),
    }


def _in_a_row(saved: BoardRow | None, same: Same | None) -> dict[str, object]:
    """The step that is done with boot after boot, what is due for it, and the one that is next."""
    flow = step_of_row(request.args.get("do", ""), request.args.get("step", ""))
    if not flow or request.args.get("boot") or request.args.get("scan"):
        return {"flow": flow, "due": (), "next_due": None}
    waiting = due(board.board(store(), the_shop(), g.now), flow, g.now)
    first = next_due(waiting, saved, same.item_id if same else None)
    return {"flow": flow, "due": together(waiting), "next_due": first}
