"""Pickup: the claim check or a name, each item ticked as it is handed over, one button."""

from __future__ import annotations

from datetime import time
from decimal import Decimal

from babel.numbers import get_currency_precision
from flask import Blueprint, flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, RadioField, SelectField, SelectMultipleField

from fitcounter.desk.common import money
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import marked, say, say_later, spoken
from fitcounter.desk.common.wear_rules import read_minutes
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.plan import ready_day
from fitcounter.desk.tags import scanned_or_typed
from fitcounter.desk.tickets import payments
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.forms.saved_form import HourField, SavedForm, TextField, said
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.pages import link_address

bp = Blueprint("pickup", __name__)

PRESET_WORDS = {
    "three-short-wears": marked("Three short times, then normal wear"),
    "growing": marked("Longer each time, with a day off in between"),
}


def _presets() -> list[tuple[str, str]]:
    return [(name, say(words)) for name, words in PRESET_WORDS.items()]


LATER = "later"
PAYS_LATER = marked("Pays later")


class HandOverForm(SavedForm):
    items = SelectMultipleField(
        say_later("Hand over"), coerce=int, choices=[], validate_choice=False
    )
    scan = TextField(say_later("Scan or type a tag"), most=80)
    collected_by = TextField(say_later("Picked up by"), most=60)
    paid = TextField(say_later("Paid now"), most=12)
    method = RadioField(
        say_later("How it is paid"),
        choices=said({**payments.METHODS, LATER: PAYS_LATER}),
        validate_choice=False,
    )
    second = TextField(say_later("The rest of it in another way"), most=12)
    second_method = RadioField(
        say_later("How the rest is paid"), choices=said(payments.METHODS), validate_choice=False
    )
    tip = TextField(say_later("Tip, apart"), most=12)
    above = BooleanField(say_later("More than the balance, and meant so"))
    part = BooleanField(say_later("The rest will be picked up later"))
    alone = BooleanField(say_later("Only one boot goes home: it is worn in alone"))
    catch_up = BooleanField(say_later("Everything is ready (some steps were not recorded)"))
    preset = SelectField(
        say_later("Wearing-in calendar"), choices=_presets, default="three-short-wears"
    )
    minutes = TextField(say_later("Minutes each time, if not the usual"), most=120)
    evening = HourField(say_later("What time suits the customer?"))


@bp.get("/pickup", endpoint="pickup")
@allow("counter", "owner")
def on_the_shelf() -> str:
    """What waits on the shelves, and the field that finds the rest."""
    return render_template(
        "pickup/list.html", rows=front_desk_today.shelved(store(), the_shop(), g.now)
    )


@bp.route("/pickup/<int:ticket_id>", methods=["GET", "POST"])
@allow("counter", "owner")
def ticket(ticket_id: int) -> Response | tuple[str, int]:
    """The things of one ticket as large lines; the last button hands them over."""
    form = HandOverForm()
    shown = pickup.look(store(), ticket_id)
    if not form.is_submitted():
        _usual(form, shown)
    elif form.scan.data:
        _tick(form, shown)
    elif form.validate():
        if _hand_over(form, shown):
            return redirect(url_for("counter.ticket", ticket_id=ticket_id), 303)
        shown = pickup.look(store(), ticket_id)
    calendar = any(pickup.begins_calendar(item) for item in shown.items)
    page = render_template(
        "pickup/ticket.html",
        form=form,
        shown=shown,
        ready_words=_ready_words(shown),
        name_of=pickup.name,
        to_try_on=[item for item in shown.items if pickup.to_try_on(item)],
        calendar=calendar,
        usual=_summary(form, shown, calendar=calendar),
        link=link_address.text_of(ticket_id),
    )
    return page, 422 if form.errors else 200


@bp.post("/pickup/<int:ticket_id>/tried")
@allow("counter", "owner")
def tried_on_all(ticket_id: int) -> Response:
    """The same answer for both boots, in one tap."""
    pickup.try_on_all(store(), act(), ticket_id, request.form.get("how", ""), StepInput(g.now))
    return redirect(url_for("pickup.ticket", ticket_id=ticket_id), 303)


@bp.post("/pickup/<int:ticket_id>/tried/<int:item_id>")
@allow("counter", "owner")
def tried_on(ticket_id: int, item_id: int) -> Response:
    """Tried on: fits, snug and accepted, or back on the tree."""
    pickup.try_on(
        store(),
        act(),
        item_id,
        request.form.get("how", ""),
        StepInput(g.now, bool(request.form.get("catch_up"))),
    )
    return redirect(url_for("pickup.ticket", ticket_id=ticket_id), 303)


def _hand_over(form: HandOverForm, shown: pickup.Pickup) -> bool:
    """Whether the things were handed over; if not, the form has the error.

    Raises Conflict where all of it is out already: its page has both texts, and no button.
    """
    try:
        handed = _handed(form, shown)
        done = pickup.hand_over(store(), act(), shown.ticket.id, handed, the_shop())
    except FitCounterError as error:
        if isinstance(error, Conflict) and error.ticket_id:
            raise
        form.take(error)
        return False
    flash(done.words)
    return True


def _usual(form: HandOverForm, shown: pickup.Pickup) -> None:
    """What is usual stands in the fields already: the customer picks up, pays the balance, is at
    home in the evening.
    """
    due = max(shown.sums.due_minor, 0)
    digits = get_currency_precision(shown.ticket.currency)
    form.items.data = []
    form.collected_by.data = shown.customer.name.split()[0] if shown.customer.name.split() else ""
    form.paid.data = str(Decimal(due).scaleb(-digits)) if due else ""
    form.evening.data = time(the_shop().wear_hour)


def _ready_words(shown: pickup.Pickup) -> str:
    """When the rest of it is ready, for who stands at the counter; "" where nothing is missing."""
    if shown.ready:
        return ""
    today = the_shop().today(g.now)
    return ready_day.of_ticket(store(), the_shop(), shown.ticket, today).words(spoken())


def _summary(form: HandOverForm, shown: pickup.Pickup, *, calendar: bool) -> list[str]:
    """Who picks up, pays what, and the hour of the calendar, as they stand in the fields."""
    who = form.collected_by.data
    facts = [say("Picked up by {name}", name=who) if who else say("Picked up by: no name yet")]
    if form.paid.data:
        due = max(shown.sums.due_minor, 0)
        usual = money.say(due, shown.ticket.currency)
        facts.append(say("Pays {amount}", amount=form.paid.data if form.is_submitted() else usual))
    if calendar and form.evening.data:
        hour = spoken().clock(form.evening.data)
        facts.append(say("Calendar at {time}", time=hour))
    return facts


def _tick(form: HandOverForm, shown: pickup.Pickup) -> None:
    """Ticks the scanned item; a tag of another ticket is said, and ticks nothing."""
    try:
        # a tag, or the number with its side as it stands on the tag
        boot = scanned_or_typed.scanned_boot(store(), form.scan.data)
        if boot.ticket_id != shown.ticket.id:
            form.scan.errors = [
                say(
                    "This tag is on another ticket. This is ticket {number}: put that item back.",
                    number=shown.ticket.number,
                )
            ]
            return
        form.items.data = sorted({*(form.items.data or []), boot.id})
        form.scan.data = ""
    except FitCounterError as error:
        form.scan.errors = [error.sentence]


def _handed(form: HandOverForm, shown: pickup.Pickup) -> pickup.Handover:
    """The money in the ticket's currency, which may be older than the shop's choice.

    Raises BadInput.
    """
    shop, currency = the_shop(), shown.ticket.currency
    at = form.evening.data
    later = form.method.data == LATER
    paid = 0 if later else money.read_amount(form.paid.data, currency, "paid")
    second = money.read_amount(form.second.data, currency, "second")
    tip = payments.read_tip(form.tip.data, currency)
    method = payments.read_method(form.method.data, paid + tip)
    second_method = payments.read_method(form.second_method.data, second, "second_method")
    return pickup.Handover(
        item_ids=frozenset(form.items.data or []),
        happened_at=g.now,
        collected_by=form.collected_by.data,
        paid_minor=paid,
        method=method,
        second_minor=second,
        second_method=second_method,
        tip_minor=tip,
        above=form.above.data,
        part=form.part.data,
        preset=form.preset.data or "",
        minutes=read_minutes(form.minutes.data or "", "minutes"),
        hour=at.hour if at else shop.wear_hour,
        minute=at.minute if at else 0,
        catch_up=form.catch_up.data,
        alone=form.alone.data,
    )
