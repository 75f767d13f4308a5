"""Measure: one sheet for the pair, left and right side by side, at the shop's heights."""

from __future__ import annotations

from collections.abc import Collection

from flask import g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.measuring import page as measuring_page
from fitcounter.desk.measuring import questions
from fitcounter.desk.measuring import save as desk
from fitcounter.desk.measuring.how_many_heights import DEPTHS
from fitcounter.desk.measuring.page import MeasurePage
from fitcounter.desk.measuring.read_last_time import last_legs, last_time
from fitcounter.desk.measuring.sheet import READS, FreeLines, cell_name, read_again
from fitcounter.desk.quote.answer_on_top import at_once, before_the_tape
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.counter.measure_form import TERMS, MeasureForm, as_sent, own_rows, rows_sent
from fitcounter.web.counter.new_job_form import TARGETS
from fitcounter.web.counter.today import bp
from fitcounter.web.guards.access import act, allow, store, the_shop


@bp.route("/fits/<int:fit_id>/measure", methods=["GET", "POST"])
@allow("counter", "owner")
def measure(fit_id: int) -> Response | tuple[str, int]:
    """Keeps the sheet whole or not at all."""
    target = _one_of(READS, request.form.get("target") or request.args.get("how", ""))
    depth = _one_of(DEPTHS, request.args.get("depth", ""))
    page = _look(fit_id, depth, target, _skipped() if request.method == "GET" else None)
    form = MeasureForm(page)
    asks_for_lines = "own" in request.form
    if form.is_submitted() and not asks_for_lines and form.validate():
        try:
            _save(form, page)
            return redirect(url_for("counter.measured", fit_id=fit_id), 303)
        except Conflict as error:  # what this form was about is not what stands there now
            raise _both(error, form, _look(fit_id, depth, target)) from error
        except FitCounterError as error:
            form.take(error)
    if form.is_submitted():
        page = _look(fit_id, depth, target)
    code = 422 if form.is_submitted() and not asks_for_lines else 200
    return render_template("counter/measure.html", form=form, **_shown(page, form)), code


def _save(form: MeasureForm, page: MeasurePage) -> None:
    seen = (page.fit, page.boots, page.stored)
    sheet, terms = form.sheet(page), form.terms(page)
    desk.save(store(), act(), page.fit.id, sheet, terms, form.seen_version, seen)


@bp.get("/fits/<int:fit_id>/measured")
@allow("counter", "owner")
def measured(fit_id: int) -> Response:
    """On to the answer, or first back to what is asked once more.

    Its own address, so that a save need not wait for the answer.
    """
    asks = measuring_page.look(store(), the_shop(), fit_id).asks
    return redirect(url_for("counter.measure" if asks else "counter.verdict", fit_id=fit_id), 303)


def _look(
    fit_id: int, depth: str, target: str, skipped: frozenset[int] | None = frozenset()
) -> MeasurePage:
    """The sheet, with every line that came with the form."""
    free = FreeLines(own_rows(), rows_sent())
    return as_sent(
        measuring_page.look(store(), the_shop(), fit_id, depth, target, free=free, skipped=skipped)
    )


def _skipped() -> frozenset[int]:
    """The questions that are left as they are, by their number."""
    numbers = request.args.getlist("skipped")
    return frozenset(number for number in range(questions.MOST) if str(number) in numbers)


def _shown(page: MeasurePage, form: MeasureForm) -> dict[str, object]:
    """What the sheet's macro asks for: values and sentences by the name of their field."""
    ticket, customer = measuring_page.whose(store(), page.fit)
    form.show_how_read()
    as_stored = not form.is_submitted() and page.target == page.boots[0].target
    today = the_shop().today(g.now)
    last = last_time(store(), ticket, page.fit.unit)
    given = at_once(store(), the_shop(), page.fit.id, today) if as_stored else None
    return {
        "page": page,
        "at_once": given,
        "not_at_all": before_the_tape(store(), page.fit.id) if as_stored and not given else None,
        "skipped": sorted(_skipped()),
        "ticket": ticket,
        "customer": customer,
        "target": page.target,
        "depth": page.depth,
        "kinds": READS[page.target],
        "last": last,
        "last_legs": last_legs(last, page.lines, page.fit.unit) if last else {},
        "targets": {word: say(label) for word, label in TARGETS.items()},
        "cell_name": cell_name,
        "values": {name: text for name, text in form.texts.items() if text},
        "wrong": {
            name: form[name].errors[0] for name in form.texts if name in form and form[name].errors
        },
        "again": read_again(form.texts),
        "ends": form.ends(page),
        "terms_wrong": any(form[name].errors for name in TERMS),
    }


def _both(error: Conflict, form: MeasureForm, page: MeasurePage) -> Conflict:
    """Two people at once is the whole page's affair, with both texts on it."""
    theirs = {
        form.label_of(name): text
        for name, text in page.cells.items()
        if form.texts.get(name, text) != text
    }
    return Conflict(error.sentence, theirs=theirs or {say("The readings"): say("same as yours")})


def _one_of(known: Collection[str], word: str) -> str:
    return word if word in known else ""
