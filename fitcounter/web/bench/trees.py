"""The trees: the list, a new one in five minutes, measured with the tape, in repair and back, a tag
to scan.
"""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.bench import board
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.plan import plan_changes
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.trees import BareTreeReading, TreeTyped
from fitcounter.errors import Conflict, FitCounterError, Unavailable
from fitcounter.fit.tagcode import show_code
from fitcounter.fit.tape import say_length
from fitcounter.web.bench.board import bp
from fitcounter.web.bench.tree_forms import MeasureTreeForm, TreeForm, TreeStateForm
from fitcounter.web.forms.saved_form import both_texts
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop

SETTING_HINTS = {
    "turns": marked("0 is closed, in turns"),
    "marks": marked("0 is closed, in wedge marks"),
    "percent": marked("0 is closed, in percent"),
}
OF_A_TREE = (
    "label",
    "side",
    "size",
    "closed",
    "open",
    "closed_setting",
    "open_setting",
    "counts",
    "note",
    "shift_most",
)


@bp.route("/bench/trees", methods=["GET", "POST"])
@allow(*STAFF)
def trees() -> Response | tuple[str, int]:
    """Every tree with what is on it; a new one from label, side and size."""
    form = TreeForm()
    if form.validate_on_submit():
        try:
            written = bench_trees.add_tree(store(), act(), the_shop(), _typed(form))
            return redirect(url_for("bench.tree", tree_id=written.row_id), 303)
        except FitCounterError as error:
            form.take(error)
    seen = board.board(store(), the_shop(), g.now).trees
    return render_template(
        "bench/trees.html", trees=seen, form=form, retired=board.retired(store())
    ), (422 if form.errors else 200)


@bp.get("/bench/trees/<int:tree_id>")
@allow(*STAFF)
def tree(tree_id: int) -> str:
    """A tree: what is on it, what it measures, what is to be done with it."""
    return page(tree_id)


@bp.post("/bench/trees/<int:tree_id>")
@allow(*STAFF)
def change_tree(tree_id: int) -> Response | tuple[str, int]:
    """The tree as typed now."""
    form = TreeForm()
    try:
        if form.validate():
            bench_trees.change_tree(
                store(), act(), the_shop(), tree_id, form.seen_version, _typed(form)
            )
            flash(say("Tree {tree} is saved.", tree=form.label.data))
            return redirect(url_for("bench.tree", tree_id=tree_id), 303)
    except Conflict as error:
        stored = _filled(bench_trees.tree_page(store(), tree_id))
        raise both_texts(error, form, {name: stored[name].data for name in OF_A_TREE}) from error
    except FitCounterError as error:
        form.take(error)
    return page(tree_id, form=form), 422


@bp.post("/bench/trees/<int:tree_id>/measure")
@allow(*STAFF)
def measure_tree(tree_id: int) -> Response | tuple[str, int]:
    """A girth of the bare tree."""
    form = MeasureTreeForm()
    try:
        if form.validate():
            typed = BareTreeReading(
                form.setting.data, form.height.data, form.girth.data, form.pads.data
            )
            bench_trees.measure_tree(store(), act(), the_shop(), tree_id, typed)
            return redirect(
                url_for(
                    "bench.tree", tree_id=tree_id, setting=form.setting.data, pads=form.pads.data
                ),
                303,
            )
    except FitCounterError as error:
        form.take(error)
    return page(tree_id, measure=form), 422


@bp.post("/bench/trees/<int:tree_id>/readings/<int:point_id>/strike")
@allow(*STAFF)
def strike_reading(tree_id: int, point_id: int) -> Response:
    """Deletes a reading that was wrong."""
    bench_trees.forget_point(store(), act(), tree_id, point_id)
    return redirect(url_for("bench.tree", tree_id=tree_id), 303)


@bp.post("/bench/trees/<int:tree_id>/state")
@allow(*STAFF)
def tree_state(tree_id: int) -> Response | tuple[str, int]:
    """In repair, back in use, retired; asks first where a promised day would move."""
    form = TreeStateForm()
    try:
        if form.state.data != "sound":
            label = bench_trees.tree_page(store(), tree_id).tree.label
            plan_changes.tree_out(store(), act(), the_shop(), label, bool(form.confirmed.data))
        bench_trees.set_state(store(), act(), tree_id, form.state.data or "")
    except Unavailable:
        raise  # a page of its own
    except FitCounterError as error:
        if error.field == "confirmed":
            typed = [
                ("state", form.state.data),
                ("submission_id", request.form.get("submission_id", "")),
            ]
            return (
                render_template(
                    "bench/day_moves.html",
                    sentence=error.sentence,
                    typed=typed,
                    url=request.path,
                ),
                422,
            )
        return page(tree_id, sentence=error.sentence), 422
    return redirect(url_for("bench.tree", tree_id=tree_id), 303)


@bp.post("/bench/trees/<int:tree_id>/tag")
@allow(*STAFF)
def tree_tag(tree_id: int) -> Response:
    """A tag for the tree."""
    bench_trees.give_tag(store(), act(), tree_id)
    return redirect(url_for("bench.tree", tree_id=tree_id), 303)


def page(
    tree_id: int,
    *,
    form: TreeForm | None = None,
    measure: MeasureTreeForm | None = None,
    sentence: str = "",
) -> str:
    seen, on = bench_trees.tree_page(store(), tree_id), board.tree(store(), the_shop(), tree_id)
    form = form or _filled(seen)
    if measure is None:
        measure = MeasureTreeForm(formdata=None)
        measure.setting.data, measure.pads.data = (
            request.args.get("setting", ""),
            request.args.get("pads", ""),
        )
    shown = {
        "seen": seen,
        "on": on,
        "form": form,
        "measure": measure,
        "sentence": sentence,
        "states": bench_trees.STATES,
        "setting_hint": say(SETTING_HINTS[seen.tree.setting_word]),
    }
    return render_template(
        "bench/tree.html", **shown, code=show_code(seen.tag.code) if seen.tag else ""
    )


def _filled(seen: bench_trees.TreePage) -> TreeForm:
    """The form as the tree is kept."""
    row, unit = seen.tree, the_shop().unit
    form = TreeForm(formdata=None)
    form.version.data = str(row.version)
    form.label.data, form.side.data, form.size.data, form.note.data = (
        row.label,
        row.side,
        row.size,
        row.note,
    )
    form.counts.data, form.closed_setting.data = (
        row.setting_word,
        f"{row.closed_setting_milli / 1000:g}",
    )
    form.open_setting.data = (
        "" if row.open_setting_milli is None else f"{row.open_setting_milli / 1000:g}"
    )
    form.closed.data = "" if row.closed_um is None else say_length(row.closed_um / 1000, unit)
    form.shift_most.data = say_length(row.shift_most_um / 1000, unit) if row.shift_most_um else ""
    form.open.data = "" if row.open_um is None else say_length(row.open_um / 1000, unit)
    return form


def _typed(form: TreeForm) -> TreeTyped:
    return TreeTyped(
        form.label.data,
        form.side.data or "",
        form.size.data or "",
        form.closed.data,
        form.open.data,
        form.closed_setting.data,
        form.open_setting.data,
        form.counts.data or "",
        form.note.data,
        form.shift_most.data,
    )
