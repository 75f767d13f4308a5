"""A paper list put in at once: shown as it was understood first, kept whole for correction, stored
only when it is accepted.
"""

from __future__ import annotations

from collections.abc import Sequence

from flask import current_app, flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
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
from fitcounter.errors import FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import nobody
from fitcounter.web.guards.request_size import takes_bytes

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
def paper_list() -> tuple[str, int]:
    """Shows a list as it was understood; nothing is stored."""
    form = PaperForm()
    checked: list[CsvLine] = []
    if form.is_submitted() and form.validate():
        try:
            if sent := request.files.get("file"):
                form.lines.data = decode(sent.read())
            checked = intake_paper_list.rehearse(
                store(), act(), the_shop(), _read(form), current_app.config["SETTINGS"].data_dir
            )
        except FitCounterError as error:
            form.take(error)
    return _page(form, checked)


@bp.post("/already/list/put-in")
@allow("counter", "owner")
@takes_bytes(MOST_BYTES)
def put_paper_in() -> Response | tuple[str, int]:
    """All jobs of the list, or none."""
    form = PaperForm()
    checked: list[CsvLine] = []
    if form.validate():
        try:
            written = intake_paper_list.put_in(
                store(), act(), the_shop(), _read(form), current_app.config["SETTINGS"].data_dir
            )
        except intake_paper_list.BadList as error:
            checked = error.lines
        except FitCounterError as error:
            form.take(error)
        else:
            flash(
                say_n(
                    "{count} job is added. Print the tags from each ticket.",
                    "{count} jobs are added. Print the tags from each ticket.",
                    written.row_id or 0,
                )
            )
            return redirect(url_for("counter.today"), 303)
    return _page(form, checked)


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
    return page, 422 if wrong or (form.is_submitted() and not checked) else 200
