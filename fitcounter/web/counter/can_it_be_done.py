"""Can it be done? The page that is turned to the customer."""

from __future__ import annotations

from pathlib import Path

from flask import current_app, flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.quote import agree as desk
from fitcounter.desk.quote import can_it_be_done_page as quote_page
from fitcounter.desk.quote import instead_of_stretching
from fitcounter.errors import FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import act, allow, store, the_shop


class DeclineForm(SavedForm):
    why = TextField(say_later("Reason"), most=200)


@bp.get("/fits/<int:fit_id>/verdict")
@allow("counter", "owner")
def verdict(fit_id: int) -> str:
    """The drawing, one sentence, two days, the price with its ceiling; every number one tap
    behind.
    """
    return _page(fit_id, DeclineForm())


@bp.post("/fits/<int:fit_id>/decline")
@allow("counter", "owner")
def decline(fit_id: int) -> Response | tuple[str, int]:
    """The boots go back undone: tagged, and on the ticket until they are handed over."""
    form = DeclineForm()
    if form.validate():
        try:
            written = desk.decline(store(), act(), fit_id, form.why.data or "", data_dir())
            flash(say("The boots go back undone. Print their tags."))
            return redirect(url_for("counter.ticket", ticket_id=written.ticket_id), 303)
        except FitCounterError as error:
            form.take(error)
    return _page(fit_id, form), 422


@bp.post("/fits/<int:fit_id>/instead")
@allow("counter", "owner")
def choose_instead(fit_id: int) -> Response | tuple[str, int]:
    """What is sewn in goes on to the price; boots that nothing is done to go back."""
    form, key = DeclineForm(), request.form.get("instead", "")
    if form.validate():
        try:
            chosen = instead_of_stretching.choose(store(), act(), fit_id, key, data_dir())
            if key not in instead_of_stretching.GIVES_BACK:
                return redirect(url_for("counter.agree", ticket_id=chosen.ticket_id), 303)
            flash(say("The boots go back undone. Print their tags."))
            return redirect(url_for("counter.ticket", ticket_id=chosen.ticket_id), 303)
        except FitCounterError as error:
            form.take(error)
    return _page(fit_id, form), 422


def data_dir() -> Path:
    folder: Path = current_app.config["SETTINGS"].data_dir
    return folder


def _page(fit_id: int, form: DeclineForm) -> str:
    return render_template(
        "counter/can_it_be_done.html",
        page=quote_page.verdict_page(store(), the_shop(), fit_id, the_shop().today(g.now)),
        form=form,
    )
