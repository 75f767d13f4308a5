"""A link for who helps the customer: made, looked at, ended."""

from __future__ import annotations

from flask import Blueprint, flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say, speech_at, spoken
from fitcounter.desk.customer import calendar as customer_calendar
from fitcounter.desk.customer import last_four_digits as customer_last_four
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer import sharing
from fitcounter.errors import FitCounterError
from fitcounter.web.customer import page as web_page
from fitcounter.web.customer import page_language
from fitcounter.web.customer.page import data_dir, show
from fitcounter.web.guards.access import act, allow, store, the_shop

look_bp = Blueprint("customer_look", __name__, url_prefix="/s/<token>")
look_bp.after_request(web_page.keep_it_private)
page_language.wire(look_bp)
bp = web_page.bp


@bp.post("/share")
@allow("anyone")
def share(token: str) -> Response:
    """A new link to look at."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        sharing.share(store(), act(), ticket.id, data_dir())
    except FitCounterError as error:
        return show(token, error)
    return redirect(url_for(".page", token=token, _anchor="shared"), 303)


@bp.post("/share/end")
@allow("anyone")
def end_share(token: str) -> Response:
    """It shows nothing from now on."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        sharing.end(store(), act(), ticket.id)
    except FitCounterError as error:
        return show(token, error)
    flash(say("Nobody else can look at your page any more."))
    return redirect(url_for(".page", token=token), 303)


@look_bp.get("")
@allow("anyone")
def look(token: str) -> str:
    """Where the boots are and their days, for who cannot change anything."""
    ticket = sharing.ticket_of_share(store(), token, g.now)
    own = customer_last_four.token_of(store(), ticket.id, data_dir())
    page = customer_page.page_of_link(store(), the_shop(), own, g.now, spoken().code)
    words = speech_at(the_shop(), page.language)
    lines = (
        customer_calendar.lines(store(), the_shop(), own, g.now, page.language)
        if page.calendar
        else ()
    )
    return render_template(
        "customer/shared_to_look.html",
        page=page,
        lines=lines,
        calendar=page.calendar,
        say=words.say,
        lang=words.locale.replace("_", "-"),
        shop=the_shop(),
    )
