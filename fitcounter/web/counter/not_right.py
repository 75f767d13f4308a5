"""What a customer said does not feel right, and a person's answer to it."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import HiddenField, RadioField

from fitcounter.desk.aftercare import not_right
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.errors import FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.fields import DayField, LongText
from fitcounter.web.forms.saved_form import SavedForm, said
from fitcounter.web.guards.access import act, allow, store, the_shop


class AdviceForm(SavedForm):
    seen = HiddenField()
    advice = RadioField(
        say_later("What should the customer do?"),
        choices=said(not_right.ADVICE),
        validate_choice=False,
    )
    from_day = DayField(say_later("They go on from"))
    note = LongText(say_later("What you told the customer"), most=not_right.LONGEST_NOTE)


@bp.route("/tickets/<int:ticket_id>/not-right", methods=["GET", "POST"])
@allow("counter", "owner")
def not_right_answer(ticket_id: int) -> Response | tuple[str, int]:
    """What was said, whom to call, and the answer that then stands on the customer's page."""
    form = AdviceForm()
    if form.is_submitted() and form.validate():
        try:
            not_right.answer(store(), act(), ticket_id, _advice(form))
            flash(say("Answer saved. It is on the customer’s page."))
            return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
        except FitCounterError as error:
            form.take(error)
    page, now = tickets_page.look(store(), ticket_id), not_right.standing(store(), ticket_id)
    form.seen.data = now.seen
    html = render_template(
        "counter/not_right.html",
        form=form,
        page=page,
        now=now,
        signs=not_right.signs_in_words,
        advice=not_right.ADVICE,
    )
    return html, 422 if form.errors else 200


def _advice(form: AdviceForm) -> not_right.ShopAnswer:
    """Raises BadInput for a day that is none, or is over."""
    day = read_day(form.from_day.data or "", the_shop().today(g.now), "from_day")
    goes_on = form.advice.data == "go-on"
    note, seen = form.note.data or "", form.seen.data or ""
    return not_right.ShopAnswer(form.advice.data or "", note, day if goes_on else None, seen)
