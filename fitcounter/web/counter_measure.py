"""Measure: one sheet for the pair, left and right side by side, at the shop's heights."""

from __future__ import annotations

from flask import redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk import measure as desk
from fitcounter.desk import measure_page
from fitcounter.desk.sheet import READS, BadSheet
from fitcounter.errors import BadReading, Conflict, FitCounterError
from fitcounter.web.access import act, allow, store, the_shop
from fitcounter.web.counter import bp
from fitcounter.web.measure_form import TermsForm, measure_form, sheet_of, terms_of
from fitcounter.web.new_form import TARGETS


@bp.route("/fits/<int:fit_id>/measure", methods=["GET", "POST"])
@allow("counter", "owner")
def measure(fit_id: int) -> Response | tuple[str, int]:
    """Keeps the sheet whole or not at all; then the answer, or first what is asked once more."""
    depth = _one_of(measure_page.DEPTHS, request.args.get("depth", ""), "")
    page = measure_page.look(store(), the_shop(), fit_id, depth or "gap")
    target = _one_of(READS, request.form.get("target") or request.args.get("how", ""), page.target)
    depth = depth or ("gap" if target != "leg" else "whole")
    page = measure_page.look(store(), the_shop(), fit_id, depth)
    form = measure_form(page, target)
    if form.is_submitted() and form.validate():
        try:
            desk.save(store(), act(), fit_id, sheet_of(form, page), terms_of(form), form.seen_version)
        except FitCounterError as error:
            _take(form, error)
        else:
            asks = measure_page.look(store(), the_shop(), fit_id, depth).asks
            back = url_for("counter.measure", fit_id=fit_id, depth=depth)
            return redirect(back if asks else url_for("counter.verdict", fit_id=fit_id), 303)
    shown = {"page": page, "form": form, "target": target, "depth": depth, "kinds": READS[target], "targets": TARGETS}
    return render_template("counter/measure.html", **shown, depths=measure_page.DEPTHS), 422 if form.is_submitted() else 200


def _take(form: TermsForm, error: FitCounterError) -> None:
    """A sentence at each cell that cannot be read."""
    if isinstance(error, Conflict):
        raise error
    if isinstance(error, BadSheet):
        for name, sentence in error.cells.items():
            form.take(BadReading(sentence, field=name))
    else:
        form.take(error)


def _one_of(known: object, word: str, otherwise: str) -> str:
    return word if isinstance(known, dict) and word in known else otherwise
