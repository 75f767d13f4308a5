"""Cancel the job, whole or one item: what goes back, what is charged, what is given back, why."""

from __future__ import annotations

from flask import current_app, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import RadioField

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.tickets import cancel as tickets_cancel
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.tickets import payments
from fitcounter.desk.tickets.cancel import Cancellation
from fitcounter.desk.tickets.cancel_page import CancelPage, look
from fitcounter.errors import BadInput, Conflict, FitCounterError, OutOfOrder
from fitcounter.web.counter.agree_form import stands
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, said
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import with_pin


class CancelForm(SavedForm):
    why = RadioField(
        say_later("Why"),
        choices=said(tickets_cancel.WHY),
        default="customer",
        validate_choice=False,
    )
    charge = TextField(say_later("Price after cancelling"), most=14)
    note = TextField(say_later("In a few words"), most=200)
    refund = TextField(say_later("Given back now"), most=14)
    method = RadioField(
        say_later("How it is given back"), choices=said(payments.METHODS), validate_choice=False
    )


@bp.route("/tickets/<int:ticket_id>/cancel", methods=["GET", "POST"])
@allow("counter", "owner")
@with_pin("refund")
def cancel(ticket_id: int) -> Response | tuple[str, int]:
    """Cancels the job; ?item= one item of it. All is filled in: a second tap saves it."""
    item = request.args.get("item", "")
    item_id = int(item) if item.isascii() and item.isdigit() and len(item) < 12 else None
    form = CancelForm() if request.method == "POST" else None
    if form and form.validate() and _saved(form, ticket_id, item_id):
        return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
    page = look(store(), the_shop(), ticket_id, item_id)
    customer = tickets_page.look(store(), ticket_id).customer
    return render_template(
        "counter/cancel.html",
        form=form or _fresh(page),
        page=page,
        customer=customer,
        item_id=item_id,
    ), 422 if form else 200


@bp.post("/tickets/<int:ticket_id>/cancel/undo")
@allow("counter", "owner")
def undo_cancel(ticket_id: int) -> Response:
    """What was cancelled last goes on, at the price of before."""
    flash(tickets_cancel.undo(store(), act(), the_shop(), ticket_id).words)
    return redirect(url_for(".ticket", ticket_id=ticket_id), 303)


def _fresh(page: CancelPage) -> CancelForm:
    """The form with what the work done costs, where that can be said."""
    charge = page.charge_minor
    held = {
        "charge": "" if charge is None else money.plain(charge, page.ticket.currency),
        "version": str(page.ticket.version),
        "why": "customer",
    }
    return CancelForm(formdata=None, data=held)


def _saved(form: CancelForm, ticket_id: int, item_id: int | None) -> bool:
    """Whether it is cancelled; if not, the form says why. Raises Conflict with what stands now."""
    page = tickets_page.look(store(), ticket_id)
    data_dir = current_app.config["SETTINGS"].data_dir
    try:
        typed = _read(form, page.ticket.currency, item_id)
        flash(tickets_cancel.cancel(store(), act(), the_shop(), ticket_id, typed, data_dir).words)
    except Conflict as error:
        raise Conflict(error.sentence, theirs=stands(page, the_shop())) from error
    except OutOfOrder:
        raise  # nothing is left to cancel: no form stands on such a page
    except FitCounterError as error:
        form.take(error)
        return False
    return True


def _read(form: CancelForm, currency: str, item_id: int | None) -> Cancellation:
    """What was typed. Raises BadInput."""
    if not form.charge.data:
        raise BadInput(say("Type the price, or 0 if it is free."), field="charge")
    refund = money.read_amount(form.refund.data, currency, "refund")
    return Cancellation(
        item_id=item_id,
        charge_minor=money.read_amount(form.charge.data, currency, "charge"),
        why=form.why.data or "",
        note=form.note.data,
        refund_minor=refund,
        method=payments.read_method(form.method.data, refund),
        version=form.seen_version,
    )
