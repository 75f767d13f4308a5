"""Change the price: each line as it stands, one more, a discount; why, and the customer's yes."""

from __future__ import annotations

from typing import Any, cast

from flask import current_app, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, HiddenField, RadioField

from fitcounter.desk.common import money
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.quote import agreed_price
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.tickets import payments, price_change
from fitcounter.desk.tickets.page import TicketPage
from fitcounter.desk.tickets.price_change import LineInput, PriceChange
from fitcounter.errors import BadInput, Conflict, FitCounterError
from fitcounter.web.counter.agree_form import line_limit, stands
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, said, typed
from fitcounter.web.guards.access import act, allow, store, the_shop

MORE = "new"  # names the fields of one more line


class PriceForm(SavedForm):
    """line_<id>_what and line_<id>_amount are the lines as they stand, line_new_… one more."""

    discount = TextField(say_later("Discount"), most=14)
    discount_why = TextField(say_later("Reason of the discount"), most=80)
    why = TextField(say_later("Why the price changes"), most=200)
    rush = BooleanField(say_later("Rush job"))
    yes = RadioField(
        say_later("Does the customer agree?"), choices=said(price_change.YES), validate_choice=False
    )
    name = TextField(say_later("Customer’s name, typed"), most=80)
    signature = HiddenField()


@bp.route("/tickets/<int:ticket_id>/price", methods=["GET", "POST"])
@allow("counter", "owner")
def change_price(ticket_id: int) -> Response | tuple[str, int]:
    """Saves another price with the customer's yes; the agreement before is kept beside it."""
    page = tickets_page.look(store(), ticket_id)
    form = price_form(page)
    if form.is_submitted() and form.validate():
        try:
            flash(_saved(form, page))
            return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
        except Conflict as error:
            theirs = stands(tickets_page.look(store(), ticket_id), the_shop())
            raise Conflict(error.sentence, theirs=theirs) from error
        except FitCounterError as error:
            form.take(error)
    now = agreed_price.standing(store(), the_shop(), page.ticket)
    return render_template(
        "counter/price_change.html", form=form, page=page, now=now, more=MORE, gone=_gone(form)
    ), 422 if form.is_submitted() else 200


def price_form(page: TicketPage) -> PriceForm:
    """The form with a field for each line of the ticket, filled in with it."""
    fields: dict[str, Any] = {}
    currency = page.ticket.currency
    for number, line in enumerate(page.lines, 1):
        amount = money.plain(abs(line.amount_minor), currency)
        fields[f"line_{line.id}_what"] = TextField(
            say("Line {number}", number=number), most=line_limit(line.what), default=line.what
        )
        fields[f"line_{line.id}_amount"] = TextField(
            say("Takes off") if line.kind == "reduction" else say("Amount {number}", number=number),
            most=14,
            default=amount,
        )
    fields[f"line_{MORE}_what"] = TextField(say("One more line"), most=80)
    fields[f"line_{MORE}_amount"] = TextField(say("Its amount"), most=14)
    form = type("PriceOfLines", (PriceForm,), fields)
    held: dict[str, Any] = {"name": page.customer.name, "version": str(page.ticket.version)}
    held["rush"] = bool(page.ticket.rush)
    return cast(PriceForm, form(data=None if request.method == "POST" else held))


def _gone(form: PriceForm) -> list[str]:
    """What was typed for lines that this ticket does not have (any more)."""
    lines = [(name, text) for name, text in typed() if name.startswith("line_")]
    return [text for name, text in lines if text and name not in form]


def _saved(form: PriceForm, page: TicketPage) -> str:
    """What is true after it was saved. Raises BadFields, and what the desk raises."""
    asked = PriceChange(
        lines=_lines(form, page),
        why=form.why.data,
        discount=form.discount.data,
        discount_why=form.discount_why.data,
        yes=form.yes.data or "",
        name=form.name.data,
        signature=form.signature.data or "",
        version=form.seen_version,
        rush=rush if (rush := bool(form.rush.data)) != bool(page.ticket.rush) else None,
    )
    data_dir = current_app.config["SETTINGS"].data_dir
    return price_change.change(store(), act(), the_shop(), page.ticket.id, asked, data_dir).words


def _lines(form: PriceForm, page: TicketPage) -> tuple[LineInput, ...]:
    """Every line as typed. Raises BadFields with a sentence for each that cannot be read."""
    problems, found = Problems(), []
    for line_id in [*(line.id for line in page.lines), None]:
        key = f"line_{line_id or MORE}"
        what, amount = form[f"{key}_what"].data or "", form[f"{key}_amount"].data or ""
        if amount and not what and line_id is None:
            problems.add(f"{key}_what", say("Type what this amount is for."))
        with problems.reading():
            found.append(LineInput(line_id, what, _amount(what, amount, f"{key}_amount", page)))
    problems.raise_any()
    return tuple(found)


def _amount(what: str, text: str, field: str, page: TicketPage) -> int:
    """Raises BadInput; also where a line with words has no amount: 0 is typed, not left out."""
    if what and not text:
        raise BadInput(say("Type the price, or 0 if it is free."), field=field)
    amount = money.read_amount(text, page.ticket.currency, field)
    if amount > payments.MOST_MINOR:
        raise BadInput(
            say("This amount is too large. Type a smaller one."), typed=text, field=field
        )
    return amount
