"""Calls to make: the words to say, how a call went, and the answers to follow-ups."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import RadioField

from fitcounter.desk.aftercare import follow_ups
from fitcounter.desk.common import how_they_were_told
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.front_desk import calls_and_reminders, delays, ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.fields import DayField
from fitcounter.web.forms.saved_form import SavedForm, TextField, said, sentences
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.pages import link_address


class CallForm(SavedForm):
    how = RadioField(
        say_later("How did it go?"), choices=said(how_they_were_told.HOW), validate_choice=False
    )
    note = TextField(say_later("Note"), most=200)
    new_day = DayField(say_later("New ready day"))


class AnswerForm(SavedForm):
    answer = TextField(say_later("Answer"), most=200)


@bp.route("/tickets/<int:ticket_id>/call", methods=["GET", "POST"])
@allow("counter", "owner")
def call(ticket_id: int) -> Response | tuple[str, int]:
    """The words to say, the phone's own ways to say them, and how it went; the next call opens by
    itself.
    """
    form = CallForm()
    if form.is_submitted() and form.validate():
        try:
            _keep_call(form, ticket_id)
            return redirect(_next_call(the_shop()), 303)
        except FitCounterError as error:
            form.take(error)
    row = ticket_rows.row_of(
        store(), tickets_page.look(store(), ticket_id).ticket, the_shop(), the_shop().today(g.now)
    )
    if not form.is_submitted() and row.when.late and row.when.day:
        form.new_day.data = row.when.day.isoformat()
    message = calls_and_reminders.message(
        store(), row, the_shop(), g.now, link_address.to_send(ticket_id)
    )
    return render_template(
        "counter/call.html",
        form=form,
        row=row,
        said=message,
        about=delays.about(row),
        sends_link=link_address.sends(),
        unreachable=link_address.own_address(),
        how=how_they_were_told.HOW,
    ), (422 if form.errors else 200)


@bp.post("/tickets/<int:ticket_id>/comes-twice")
@allow("counter", "owner")
def comes_twice(ticket_id: int) -> Response:
    """The rest will be picked up later: a part that is here may be called about."""
    calls_and_reminders.come_twice(store(), act(), ticket_id)
    return redirect(url_for(".call", ticket_id=ticket_id), 303)


@bp.post("/follow-ups/<int:follow_up_id>")
@allow("counter", "owner")
def follow_up(follow_up_id: int) -> Response:
    """Asked, and what the answer was; the line leaves the list."""
    form = AnswerForm()
    if not form.validate():
        raise BadInput(sentences(form)[0], typed=form.answer.data, field="answer")
    follow_ups.answer(store(), act(), follow_up_id, form.answer.data or "")
    flash(say("Answer saved."))
    return redirect(url_for(".today"), 303)


def _keep_call(form: CallForm, ticket_id: int) -> None:
    new_day = read_day(form.new_day.data or "", the_shop().today(g.now), "new_day")
    how, note = form.how.data or "", form.note.data
    calls_and_reminders.keep(store(), act(), the_shop(), ticket_id, how, note, new_day)


def _next_call(shop: Shop) -> str:
    """The next call to make, else Today."""
    rows = ticket_rows.open_rows(store(), shop, shop.today(g.now))
    calls = front_desk_today.desk_lists(store(), shop, rows, g.now).calls
    return url_for(".call", ticket_id=calls[0].ticket.id) if calls else url_for(".today")
