"""A paper list put in at once: shown as it was understood first, kept whole for correction, stored
only when it is accepted.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from flask import current_app, flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from wtforms import FileField, TextAreaField

from fitcounter.desk.common.translation import say, say_later, say_n
from fitcounter.desk.intake import paper_list as intake_paper_list
from fitcounter.desk.intake.paper_list_csv import (
    EXAMPLE,
    MOST_CHARACTERS,
    CsvLine,
    decode,
    headings,
    read_list,
)
from fitcounter.desk.shop import Written
from fitcounter.errors import FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import act, allow, the_shop
from fitcounter.web.guards.initials_and_pin import nobody
from fitcounter.web.guards.request_size import takes_bytes
from fitcounter.web.responses import how_far

MOST_BYTES = 4 * MOST_CHARACTERS


class PaperForm(SavedForm):
    file = FileField(
        say_later("List as a file (CSV)"), render_kw={"accept": ".csv,.txt,text/csv,text/plain"}
    )
    lines = TextAreaField(say_later("List of jobs"), render_kw={"rows": 12, "spellcheck": "false"})


@bp.route("/already/list", methods=["GET", "POST"])
@allow("counter", "owner")
@nobody
@takes_bytes(MOST_BYTES)
def paper_list() -> ResponseReturnValue:
    """Shows a list as it was understood; nothing is stored."""
    form = PaperForm()
    if not (form.is_submitted() and form.validate()):
        return _page(form, [])
    by, shop, data_dir = act(), the_shop(), current_app.config["SETTINGS"].data_dir
    try:
        if sent := request.files.get("file"):
            form.lines.data = decode(sent.read())
        lines = _read(form)
    except FitCounterError as error:
        form.take(error)
        return _page(form, [])
    return how_far.answered(
        lambda held: intake_paper_list.rehearse(held, by, shop, lines, data_dir),
        partial(_checked, form),
    )


def _checked(form: PaperForm, found: Callable[[], list[CsvLine]]) -> ResponseReturnValue:
    try:
        return _page(form, found())
    except FitCounterError as error:
        form.take(error)
        return _page(form, [])


@bp.post("/already/list/put-in")
@allow("counter", "owner")
@takes_bytes(MOST_BYTES)
def put_paper_in() -> ResponseReturnValue:
    """All jobs of the list, or none."""
    form = PaperForm()
    if not form.validate():
        return _page(form, [])
    by, shop, data_dir = act(), the_shop(), current_app.config["SETTINGS"].data_dir
    try:
        lines = _read(form)
    except FitCounterError as error:
        form.take(error)
        return _page(form, [])
    return how_far.answered(
        lambda held: intake_paper_list.put_in(held, by, shop, lines, data_dir),
        partial(_put_in, form),
    )


def _put_in(form: PaperForm, written: Callable[[], Written]) -> ResponseReturnValue:
    """They are added, or what is in the way of it."""
    try:
        count = written().row_id or 0
    except intake_paper_list.BadList as error:
        return _page(form, error.lines)
    except FitCounterError as error:
        form.take(error)
        return _page(form, [])
    flash(
        say_n(
            "{count} job is added. Print the tags from each ticket.",
            "{count} jobs are added. Print the tags from each ticket.",
            count,
        )
    )
    return redirect(url_for("counter.today"), 303)


def _read(form: PaperForm) -> list[CsvLine]:
    return read_list(form.lines.data or "", the_shop(), the_shop().today(g.now))


def _page(form: PaperForm, checked: Sequence[CsvLine]) -> tuple[str, int]:
    wrong = [line for line in checked if line.sentence]
    page = render_template(
        "counter/paper_list.html",
        form=form,
        checked=checked,
        wrong=wrong,
        example=say(EXAMPLE),
        columns=headings(),
    )
    return page, 422 if wrong or form.errors else 200
