"""The till: what came in since it was closed last, closing it, and what is still owed."""

from __future__ import annotations

from typing import Any, cast

from babel.numbers import get_currency_precision
from flask import flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from fitcounter.desk.common import money
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.documents import closed_till as documents_till
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.tickets import till as tickets_till
from fitcounter.desk.tickets.till import Count, TillLine, TillPage
from fitcounter.errors import FitCounterError
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.responses.pdf import printed


class TillForm(SavedForm):
    """counted_<method> is what was counted of each kind."""

    change = TextField(say_later("Change in the till before"), most=14)
    note = TextField(say_later("Note"), most=200)
    seen = TextField("", most=40)
    sent: str | None = None  # what the person saw, where it stands no more


@bp.route("/till", methods=["GET", "POST"])
@allow("counter", "owner")
def till() -> Response | tuple[str, int]:
    """Counts and closes the till; beside it what is still owed, and the last closings."""
    page = tickets_till.look(store(), the_shop(), g.now)
    form = _form(page)
    if form.is_submitted() and form.validate():
        try:
            count = _read(form, page)
            desk = tickets_till.close(store(), act(), the_shop(), count)
            flash(say("The till is closed. {difference}", difference=desk.words))
            return redirect(url_for(".till"), 303)
        except FitCounterError as error:
            form.take(error)
    owed = front_desk_today.still_owed(store(), the_shop(), g.now)
    return render_template(
        "shop/till.html",
        form=form,
        page=page,
        expected={_field(line): line.in_minor + line.out_minor for line in page.lines},
        digits=get_currency_precision(page.currency),
        owed=owed,
        closed=tickets_till.latest(store()),
        difference=tickets_till.difference,
    ), (409 if g.get("conflict") else 422 if form.is_submitted() else 200)


@bp.get("/till/<int:till_id>.pdf")
@allow("counter", "owner")
def till_paper(till_id: int) -> ResponseReturnValue:
    """A till as it was closed, to print and keep."""
    shop = the_shop()
    return printed(lambda held: documents_till.till_pdf(held, shop, till_id), f"till-{till_id}")


def _field(line: TillLine) -> str:
    """The field of what was counted of one kind."""
    return f"counted_{line.method or 'unsaid'}"


def _form(page: TillPage) -> TillForm:
    """A field for each kind that has something in it; none is filled in but the change."""
    fields: dict[str, Any] = {
        _field(line): TextField(say("Counted: {kind}", kind=line.words), most=14)
        for line in page.lines
    }
    form = type("TillOfKinds", (TillForm,), fields)
    held = {"change": money.plain(page.float_minor, page.currency), "seen": page.seen}
    made = cast(TillForm, form(data=None if request.method == "POST" else held))
    if made.is_submitted() and made.seen.data != page.seen:
        _stale(made, page)
    return made


def _stale(form: TillForm, page: TillPage) -> None:
    """A payment came meanwhile: the page shows it, and what was counted is asked for again."""
    form.sent = form.seen.data
    form.seen.data = page.seen


def _read(form: TillForm, page: TillPage) -> Count:
    """What was counted. Raises BadFields."""
    problems, counted, change = Problems(), {}, 0
    with problems.reading():
        change = money.read_amount(form.change.data, page.currency, "change")
    for line in page.lines:
        field = _field(line)
        if not form[field].data:
            problems.add(field, say("Type what you counted, or 0."))
        with problems.reading():
            counted[line.method] = money.read_amount(
                form[field].data, page.currency, field, signed=True
            )
    problems.raise_any()
    return Count(counted, change, form.note.data, form.sent or page.seen)
