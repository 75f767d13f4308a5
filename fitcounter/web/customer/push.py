"""Messages to a customer's phone: asked for, ended, and the clock whose end is told."""

from __future__ import annotations

from datetime import timedelta

from flask import flash, g, redirect, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.messages import push_allowed_services, push_asked_by_phone
from fitcounter.desk.messages.push_asked_by_phone import TypedPhone
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.web.customer.page import bp, data_dir, show
from fitcounter.web.guards.access import act, allow, store

LONGEST = 2000


def typed_phone() -> TypedPhone:
    """What the browser gave its page to send."""
    parts = (request.form.get(name, "")[:LONGEST] for name in ("endpoint", "p256dh", "auth"))
    return TypedPhone(*parts)


@bp.post("/push")
@allow("anyone")
def ask_push(token: str) -> Response:
    """This phone gets messages from now on."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        push_asked_by_phone.ask_for_ticket(store(), act(), ticket.id, typed_phone(), spoken().code)
    except FitCounterError as error:
        return show(token, error)
    return Response(status=204)


@bp.post("/push/end")
@allow("anyone")
def end_push(token: str) -> Response:
    """No phone gets messages by this page any more."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    push_asked_by_phone.end_for_ticket(store(), act(), ticket.id)
    flash(say("No more messages to phones."))
    return redirect(url_for(".page", token=token), 303)


@bp.post("/clock")
@allow("anyone")
def clock(token: str) -> Response:
    """A clock runs on a phone; without its name, none does any more."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    name = request.form.get("clock", "")
    try:
        if name:
            n, ago = _whole("n"), timedelta(seconds=_whole("ago"))
            push_asked_by_phone.start_clock(store(), act(), ticket.id, n, name, ago)
        else:
            push_asked_by_phone.stop_clock(store(), act(), ticket.id)
    except FitCounterError as error:
        return show(token, error)
    return Response(status=204)


@bp.app_template_global()
def push_key() -> str:
    """What the browser needs to let the shop send; "" where the shop sends nothing."""
    return (
        push_allowed_services.public_key(data_dir())
        if push_allowed_services.of_shop(store()).on
        else ""
    )


@bp.app_template_global()
def is_pushed(ticket_id: int) -> bool:
    """Whether a phone gets messages of this ticket."""
    return push_asked_by_phone.is_on(store(), ticket_id)


def _whole(name: str) -> int:
    """A whole number of seconds or of a step. Raises BadInput."""
    typed = request.form.get(name, "")
    if not (typed.isascii() and typed.isdigit() and len(typed) <= 6):
        raise BadInput(say("Today’s plan has changed. Load the page again."), field=name)
    return int(typed)
