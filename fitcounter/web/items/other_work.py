"""Work on one boot beside its stretching: begun, done, not done after all."""

from __future__ import annotations

from flask import flash, g, redirect, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.bench import other_work
from fitcounter.desk.bench.other_work import WorkStepInput
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.guards.access import STAFF, act, allow, store
from fitcounter.web.items.item import bp, page
from fitcounter.web.items.other_work_form import WorkLineForm


@bp.post("/items/<int:item_id>/works/<int:line_id>")
@allow(*STAFF)
def work_line(item_id: int, line_id: int) -> Response | tuple[str, int]:
    """Saves where a job on this boot is now; one that waits for another asks first."""
    form = WorkLineForm()
    form.line_id = line_id
    if form.validate():
        try:
            flash(_saved(form, line_id))
            return redirect(url_for(".item", item_id=item_id, _anchor="l-work"), 303)
        except Conflict:
            raise
        except FitCounterError as error:
            form.take(error)
    return page(item_id, work_form=form), 422


def _saved(form: WorkLineForm, line_id: int) -> str:
    """What is true after it was saved. Raises what the desk raises."""
    typed = WorkStepInput(
        to=str(form.to.data or ""),
        seen=str(form.seen.data or ""),
        note=form.note.data,
        anyway=bool(form.anyway.data),
    )
    return other_work.set_line(store(), act(), line_id, g.now, typed).words
