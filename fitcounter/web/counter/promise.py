"""Can I promise Friday? Asked on the phone, before there is a ticket; nothing is saved."""

from __future__ import annotations

from flask import g, render_template, request
from wtforms import RadioField, SelectField

from fitcounter.desk.bench.plan_changes import pair_words
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.leather_presets import LEATHERS
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.quote import can_promise
from fitcounter.desk.quote.can_promise import PromiseAnswer, PromiseAsk
from fitcounter.errors import FitCounterError
from fitcounter.web.access import STAFF, allow, store, the_shop
from fitcounter.web.counter.today import bp
from fitcounter.web.fields import DayField
from fitcounter.web.forms import SavedForm, TextField, said


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
    late = [words for one in answer.late if (words := pair_words(store(), one))] if answer else []
    page = render_template("counter/promise.html", form=form, answer=answer, late=late)
    return page, 422 if form.errors or form.form_errors else 200


def _answer(form: PromiseForm) -> PromiseAnswer:
    needed = read_day(form.needed.data or "", the_shop().today(g.now), "needed")
    ask = PromiseAsk(form.leather.data or "", form.short.data or "", form.sides.data or "", needed)
    return can_promise.can_promise(store(), the_shop(), g.now, ask)
