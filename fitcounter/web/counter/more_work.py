"""More work on what is here already: picked by two letters, priced, and agreed to."""

from __future__ import annotations

from typing import Any, cast

from flask import current_app, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, HiddenField, RadioField

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.quote import price_list
from fitcounter.desk.tickets import more_work
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.tickets.more_work import WorkInput
from fitcounter.desk.tickets.page import TicketPage, name_of
from fitcounter.desk.tickets.price_change import YES, PriceChange
from fitcounter.errors import Conflict, FitCounterError, OutOfOrder
from fitcounter.web.counter.agree_form import stands
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, said
from fitcounter.web.guards.access import act, allow, store, the_shop


class WorkForm(SavedForm):
    """item_<id>: ticked where the work is on that item."""

    what = TextField(
        say_later("Work, two letters are enough"),
        most=price_list.LONGEST_NAME,
        render_kw={"list": "work-list"},
    )
    size = TextField(say_later("Size, if its price goes by size"), most=24)
    price = TextField(say_later("Price for each boot or item"), most=14)
    odd = BooleanField(say_later("The price is right as typed"))
    yes = RadioField(
        say_later("Does the customer agree?"), choices=said(YES), validate_choice=False
    )
    name = TextField(say_later("Customer’s name, typed"), most=80)
    signature = HiddenField()


@bp.route("/tickets/<int:ticket_id>/work", methods=["GET", "POST"])
@allow("counter", "owner")
def add_work(ticket_id: int) -> Response | tuple[str, int]:
    """All work on what is here, and one more."""
    page = tickets_page.look(store(), ticket_id)
    form = work_form(page)
    if form.is_submitted() and not _taking(page):  # no form stands on the page: show what was typed
        raise more_work.nothing_here()
    if form.is_submitted() and form.validate() and _saved(form, page):
        return redirect(url_for(".add_work", ticket_id=ticket_id), 303)
    return render_template(
        "counter/more_work.html",
        form=form,
        page=page,
        work=more_work.of_ticket(store(), ticket_id),
        entries=price_list.entries(store()),
        agreed=any(_is_agreed(one) for one in _taking(page)),
        taking=_taking(page),
    ), (422 if form.is_submitted() else 200)


@bp.post("/tickets/<int:ticket_id>/works/<int:work_id>/drop")
@allow("counter", "owner")
def drop_work(ticket_id: int, work_id: int) -> Response:
    """Takes out what is not agreed yet."""
    flash(more_work.drop(store(), act(), ticket_id, work_id).words)
    return redirect(url_for(".add_work", ticket_id=ticket_id), 303)


def _taking(page: TicketPage) -> list[Any]:
    """What work can be done on."""
    return [one.item for one in page.entries if more_work.may_take_work(one.item)]


def _is_agreed(item: Any) -> bool:
    return item.state not in more_work.NOT_AGREED


def work_form(page: TicketPage) -> WorkForm:
    """The form with a box for each item; both boots are ticked."""
    fields = {f"item_{one.id}": BooleanField(name_of(one)) for one in _taking(page)}
    ticked = {f"item_{one.id}": bool(one.side) for one in _taking(page)}
    held = {**ticked, "name": page.customer.name, "version": str(page.ticket.version)}
    form = type("WorkOnItems", (WorkForm,), fields)
    return cast(WorkForm, form(data=None if request.method == "POST" else held))


def _saved(form: WorkForm, page: TicketPage) -> bool:
    """Whether it is added; if not, the form says why. Raises Conflict with what stands now."""
    data_dir = current_app.config["SETTINGS"].data_dir
    try:
        typed = _read(form, page)
        flash(more_work.add(store(), act(), the_shop(), page.ticket.id, typed, data_dir).words)
    except Conflict as error:
        theirs = stands(tickets_page.look(store(), page.ticket.id), the_shop())
        raise Conflict(error.sentence, theirs=theirs) from error
    except OutOfOrder:
        raise  # nothing is left to work on: no form stands on such a page
    except FitCounterError as error:
        error.field = "what" if error.field == "why" else error.field
        form.take(error)
        return False
    return True


def _read(form: WorkForm, page: TicketPage) -> WorkInput:
    """What was typed. Raises BadInput."""
    amount = None
    if form.price.data:
        amount = money.read_amount(form.price.data, page.ticket.currency, "price")
    asks = PriceChange(
        lines=(),
        why=form.what.data,
        yes=form.yes.data or "",
        name=form.name.data,
        signature=form.signature.data or "",
    )
    ticked = frozenset(one.id for one in _taking(page) if form[f"item_{one.id}"].data)
    return WorkInput(
        what=form.what.data,
        item_ids=ticked,
        price=amount,
        size=form.size.data,
        asks=asks,
        odd=bool(form.odd.data),
        version=form.seen_version,
    )
