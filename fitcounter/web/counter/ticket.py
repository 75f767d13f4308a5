"""Money on a ticket outside agreeing and pickup: taken, given back, put right."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import RadioField

from fitcounter.desk.common import money
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.tickets import payments
from fitcounter.desk.tickets.page import TicketPage
from fitcounter.errors import Conflict, FitCounterError, OutOfOrder
from fitcounter.web.access import STAFF, act, allow, store, the_shop
from fitcounter.web.acting_person import with_pin
from fitcounter.web.counter.today import bp
from fitcounter.web.forms import SavedForm, TextField


class MoneyForm(SavedForm):
    what = RadioField(
        "What is it?", choices=payments.KINDS, default="payment", validate_choice=False
    )
    amount = TextField("Sum", most=14, needed="Type the sum in figures, like 45.")
    why = TextField("Why", most=200)


@bp.get("/tickets/<int:ticket_id>")
@allow(*STAFF)
def ticket(ticket_id: int) -> str:
    """One ticket: whose, what is on it and where it stands, money, papers, and what comes next."""
    return _page(MoneyForm(), tickets_page.look(store(), ticket_id))


@bp.post("/tickets/<int:ticket_id>/money")
@allow("counter", "owner")
@with_pin(what=payments.NEEDS_PIN)
def write_money(ticket_id: int) -> Response | tuple[str, int]:
    """Writes one sum down; what cannot be taken comes back on the ticket's page as it was typed."""
    form = MoneyForm()
    if form.validate():
        typed = payments.Typed(
            form.what.data or "", form.amount.data, form.why.data, form.seen_version
        )
        try:
            written = payments.write_down(store(), act(), ticket_id, typed)
            flash(f"{written.words}. The sums follow below.")
            return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
        except Conflict as error:
            raise _both(error, tickets_page.look(store(), ticket_id), typed.seen or 0) from error
        except OutOfOrder:
            raise  # no form stands on such a page
        except FitCounterError as error:
            form.take(error)
    return _page(form, tickets_page.look(store(), ticket_id)), 422


def _page(form: MoneyForm, page: TicketPage) -> str:
    form.version.data = str(
        payments.last_id(page.payments)
    )  # the page shows what is paid now; saved again, it is meant so
    return render_template("counter/ticket.html", page=page, form=form, said=payments.SAID)


def _both(error: Conflict, page: TicketPage, seen: int) -> Conflict:
    """The same with every sum that was written since, why, and what is paid now."""
    theirs: dict[str, str] = {}
    for one in page.payments:
        if one.id > seen:
            label = payments.SAID[one.kind]
            again = sum(1 for name in theirs if name.startswith(label))
            amount = money.say(one.amount_minor, page.ticket.currency, the_shop().locale)
            said = (amount, one.note, page.initials.get(one.staff_id or 0, ""))
            theirs[f"{label}, {again + 1}." if again else label] = ", ".join(
                part for part in said if part
            )
    paid = money.say(page.sums.paid_minor, page.ticket.currency, the_shop().locale)
    return Conflict(
        error.sentence, field=error.field, theirs={**theirs, "Paid now": paid} if theirs else {}
    )
