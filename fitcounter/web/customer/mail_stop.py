"""A customer stops e-mails: on a page, or in one tap of their mail program (RFC 8058)."""

from __future__ import annotations

from flask import g, make_response, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.wrappers import Response
from wtforms import ValidationError

from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.messages import mail_wanted
from fitcounter.errors import FitCounterError
from fitcounter.web.customer.page import bp
from fitcounter.web.guards import csrf_token
from fitcounter.web.guards.access import act, allow, store, the_shop


@bp.get("/mail")
@allow("anyone")
def mail(token: str) -> Response:
    """One button; opening the page changes nothing: mail programs open addresses themselves."""
    return _page(token)


@bp.post("/mail")
@allow("anyone")
def stop(token: str) -> Response:
    """Stops them, however often it is sent; answered with a page and no way on (RFC 8058 3.1)."""
    if request.form.get("List-Unsubscribe") != "One-Click":
        _ask_for_token()
    ticket = mail_wanted.ticket_of_stop(store(), token)
    mail_wanted.stop(store(), act(), ticket.id)
    return _page(token)


def _ask_for_token() -> None:
    """The page's own form has a token as every other; a mail program has none. Raises CSRFError."""
    try:
        csrf_token.check(request.form.get("csrf_token"))
    except ValidationError as error:
        raise CSRFError(str(error)) from error


def _page(token: str) -> Response:
    ticket = mail_wanted.ticket_of_stop(store(), token)
    page = render_template(
        "customer/mail_stop.html",
        token=token,
        stopped=mail_wanted.is_stopped(store(), ticket.id),
        opens=_opens(token),
        shop=the_shop(),
    )
    return make_response(page)


def _opens(token: str) -> bool:
    """Whether the page of this link opens too; the link of an older e-mail only stops them."""
    try:
        customer_page.ticket_of_link(store(), token, g.now)
    except FitCounterError:
        return False
    return True
