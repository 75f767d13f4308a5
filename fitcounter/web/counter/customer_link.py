"""The customer's link at the counter: to be scanned or sent, made anew, turned off; and the
language of page and papers.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from flask import current_app, flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.customer import link_new_or_closed as customer_link
from fitcounter.desk.messages import mail_account, mail_wanted
from fitcounter.desk.shop import Written
from fitcounter.errors import FitCounterError, Unavailable
from fitcounter.web.counter.today import bp
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.pages import link_address


@bp.get("/tickets/<int:ticket_id>/link")
@allow("counter", "owner")
def link(ticket_id: int) -> str:
    """The code to scan from this screen, until when it opens the page, and the ways to end it."""
    return show(ticket_id)


def show(ticket_id: int, wrong: FitCounterError | None = None) -> str:
    """The page, with what was wrong at its top."""
    base_url = str(current_app.config["SETTINGS"].base_url)
    page = customer_link.link_page(store(), the_shop(), ticket_id, base_url, _data_dir(), g.now)
    return render_template(
        "counter/customer_link.html",
        page=page,
        languages=languages(),
        wrong=wrong,
        text=link_address.text_of(ticket_id),
        unreachable=link_address.own_address(),
        mail_on=mail_account.of_shop(store()) is not None,
        mail_stopped=mail_wanted.is_stopped(store(), ticket_id),
        mails=mail_wanted.of_ticket(store(), ticket_id),
    )


@bp.post("/tickets/<int:ticket_id>/link/new")
@allow("counter", "owner")
def new_link(ticket_id: int) -> Response | tuple[str, int]:
    """Another link; the old one opens nothing any more."""
    return _done(
        ticket_id, lambda: customer_link.renew(store(), act(), the_shop(), ticket_id, _data_dir())
    )


@bp.post("/tickets/<int:ticket_id>/link/take-back")
@allow("counter", "owner")
def take_link_back(ticket_id: int) -> Response | tuple[str, int]:
    """The link opens nothing until there is a new one."""
    return _done(ticket_id, lambda: customer_link.take_back(store(), act(), ticket_id))


@bp.post("/tickets/<int:ticket_id>/language")
@allow("counter", "owner")
def her_language(ticket_id: int) -> Response | tuple[str, int]:
    """The language of the customer's page and papers."""
    return _done(
        ticket_id,
        lambda: customer_link.choose_language(
            store(), act(), ticket_id, request.form.get("language", "")
        ),
    )


@bp.post("/tickets/<int:ticket_id>/mail")
@allow("counter", "owner")
def mail_wish(ticket_id: int) -> Response | tuple[str, int]:
    """E-mails stopped for a customer who said so, or sent again to one who asked."""
    wish = mail_wanted.allow if request.form.get("wish") == "again" else mail_wanted.stop
    return _done(ticket_id, lambda: wish(store(), act(), ticket_id))


def _done(ticket_id: int, do: Callable[[], Written]) -> Response | tuple[str, int]:
    try:
        words = do().words
    except Unavailable:
        raise  # a page of its own keeps what was picked
    except FitCounterError as error:
        return show(ticket_id, error), 422
    flash(words)
    return redirect(url_for("counter.link", ticket_id=ticket_id), 303)


def _data_dir() -> Path:
    return Path(current_app.config["SETTINGS"].data_dir)
