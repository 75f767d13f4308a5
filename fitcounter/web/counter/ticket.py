"""Money on a ticket outside agreeing and pickup: payments, refunds, corrections."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, RadioField

from fitcounter.desk.aftercare import not_right, wear_feelings
from fitcounter.desk.common import money
from fitcounter.desk.common.translation import marked, say, say_later, spoken
from fitcounter.desk.plan import ready_day
from fitcounter.desk.tickets import notes as tickets_notes
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.tickets import payments
from fitcounter.desk.tickets.page import TicketPage
from fitcounter.errors import Conflict, FitCounterError, OutOfOrder
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, said
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import with_pin
from fitcounter.web.pages import link_address

_SAVED = {
    "payment": marked("Payment saved."),
    "refund": marked("Refund saved."),
    "correction": marked("Correction saved."),
}


class MoneyForm(SavedForm):
    what = RadioField(
        say_later("Kind of entry"),
        choices=said(payments.KINDS),
        default="payment",
        validate_choice=False,
    )
    amount = TextField(say_later("Amount"), most=14, needed=say_later("Type an amount, like 45."))
    method = RadioField(
        say_later("How it is paid"), choices=said(payments.METHODS), validate_choice=False
    )
    tip = TextField(say_later("Tip, apart"), most=14)
    above = BooleanField(say_later("More than the balance, and meant so"))
    why = TextField(say_later("Reason"), most=200)


@bp.get("/tickets/<int:ticket_id>")
@allow(*STAFF)
def ticket(ticket_id: int) -> str:
    """One ticket: whose, what is on it and where it stands, money, papers, and what comes next."""
    return _page(MoneyForm(), tickets_page.look(store(), ticket_id))


@bp.post("/tickets/<int:ticket_id>/money")
@allow("counter", "owner")
@with_pin(what=payments.NEEDS_PIN)
def write_money(ticket_id: int) -> Response | tuple[str, int]:
    """Saves one entry; what cannot be taken comes back on the ticket's page as it was typed."""
    form = MoneyForm()
    if form.validate():
        typed = _typed(form)
        try:
            payments.read_method(typed.method, 1)
            payments.write_down(store(), act(), ticket_id, typed)
            flash(_saved(typed.what, tickets_page.look(store(), ticket_id)))
            return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
        except Conflict as error:
            raise _both(error, tickets_page.look(store(), ticket_id), typed.seen or 0) from error
        except OutOfOrder:
            raise  # no form stands on such a page
        except FitCounterError as error:
            form.take(error)
    return _page(form, tickets_page.look(store(), ticket_id)), 422


def _typed(form: MoneyForm) -> payments.Typed:
    return payments.Typed(
        form.what.data or "",
        form.amount.data,
        form.why.data,
        form.seen_version,
        method=form.method.data or "",
        tip=form.tip.data,
        above=form.above.data,
    )


def _saved(what: str, page: TicketPage) -> str:
    """What was saved, and what is still to be paid."""
    due = page.sums.due_minor
    amount = money.say(abs(due), page.ticket.currency)
    if due > 0:
        left = say("The balance is {amount}.", amount=amount)
    else:
        left = say("To refund: {amount}.", amount=amount) if due else say("Nothing is left to pay.")
    return f"{say(_SAVED[what])} {left}"


def _page(form: MoneyForm, page: TicketPage) -> str:
    form.version.data = str(
        payments.last_id(page.payments)
    )  # the page shows what is paid now; saved again, it is meant so
    when = ready_day.of_ticket(store(), the_shop(), page.ticket, the_shop().today(g.now))
    return render_template(
        "counter/ticket.html",
        page=page,
        form=form,
        said=payments.SAID,
        felt=wear_feelings.for_the_shop(store(), page.ticket.id),
        boots_off=not_right.standing(store(), page.ticket.id).held,
        methods=payments.METHODS,
        when=when.words(spoken()),
        link=link_address.text_of(page.ticket.id),
        notes=tickets_notes.of_ticket(store(), page.ticket.id),
    )


def _both(error: Conflict, page: TicketPage, seen: int) -> Conflict:
    """The same with every entry that was saved since, why, and what is paid now."""
    theirs: dict[str, str] = {}
    for one in page.payments:
        if one.id > seen:
            label = say(payments.SAID[one.kind])
            again = sum(1 for name in theirs if name.startswith(label))
            amount = money.say(one.amount_minor, page.ticket.currency)
            parts = (amount, one.note, page.initials.get(one.staff_id or 0, ""))
            theirs[f"{label}, {again + 1}." if again else label] = ", ".join(
                part for part in parts if part
            )
    paid = money.say(page.sums.paid_minor, page.ticket.currency)
    return Conflict(
        error.sentence,
        field=error.field,
        theirs={**theirs, say("Paid now"): paid} if theirs else {},
    )
