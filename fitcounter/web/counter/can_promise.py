"""Can I promise Friday? Asked on the phone, before there is a ticket; the days can be kept from
here.
"""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, RadioField, SelectField

from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.leather_presets import LEATHERS
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.plan.plan_changes import pair_words
from fitcounter.desk.quote import can_promise
from fitcounter.desk.quote.can_promise import PromiseAnswer, PromiseAsk, Whose
from fitcounter.errors import FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.fields import DayField
from fitcounter.web.forms.saved_form import SavedForm, TextField, said
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop


class PromiseForm(SavedForm):
    leather = SelectField(
        say_later("Leather"), choices=said(LEATHERS), default="full-grain", validate_choice=False
    )
    short = TextField(say_later("How much are they short?"), most=24)
    sides = RadioField(
        say_later("Which boots"),
        choices={
            "pair": say_later("Both"),
            "left": say_later("Left"),
            "right": say_later("Right"),
        },
        default="pair",
        validate_choice=False,
    )
    needed = DayField(say_later("Needed by"))
    rush = BooleanField(say_later("Rush job"))
    name = TextField(say_later("Whose boots"), most=80)


@bp.get("/promise")
@allow(*STAFF)
def promise() -> tuple[str, int]:
    """What may be promised for boots that are not here: the day, how likely, what it would take."""
    asked = bool(request.args)
    form = PromiseForm(formdata=request.args if asked else None)
    answer = None
    if asked:
        try:
            answer = _answer(form)
        except FitCounterError as error:
            form.take(error)
    return _page(form, answer)


@bp.post("/promise")
@allow(*STAFF)
def keep_days() -> Response | tuple[str, int]:
    """Keeps the trees of the answer for a day, for the ticket that will be made from it.

    move=1: those for which others move.
    """
    form, answer = PromiseForm(), None
    try:
        answer = _answer(form)
        whose = Whose(form.name.data or "", bool(form.rush.data))
        ask, move = _ask(form), request.form.get("move") == "1"
        written = can_promise.keep_days(store(), act(), the_shop(), ask, whose, move=move)
    except FitCounterError as error:
        form.take(error)
        return _page(form, answer)
    flash(written.words)
    return redirect(url_for("bench.plan", _anchor="p-slot"), 303)


def _page(form: PromiseForm, answer: PromiseAnswer | None) -> tuple[str, int]:
    late = [words for one in answer.late if (words := pair_words(store(), one))] if answer else []
    page = render_template("counter/can_promise.html", form=form, answer=answer, late=late)
    return page, 422 if form.errors or form.form_errors else 200


def _answer(form: PromiseForm) -> PromiseAnswer:
    return can_promise.can_promise(store(), the_shop(), g.now, _ask(form))


def _ask(form: PromiseForm) -> PromiseAsk:
    needed = read_day(form.needed.data or "", the_shop().today(g.now), "needed")
    return PromiseAsk(form.leather.data or "", form.short.data or "", form.sides.data or "", needed)
