"""The short code on paper: with the last four digits of the phone number it leads to the
customer's page.
"""

from __future__ import annotations

from flask import Blueprint, g, make_response, redirect, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import spoken
from fitcounter.desk.customer import last_four_digits as customer_last_four
from fitcounter.errors import FitCounterError, Unavailable
from fitcounter.web.customer import last_four_digits, page_language
from fitcounter.web.customer import page as customer_page
from fitcounter.web.customer.last_four_digits import LastFourForm, refused_as
from fitcounter.web.guards.access import allow, store, the_shop

bp = Blueprint("customer_code", __name__)
bp.after_request(customer_page.keep_it_private)
page_language.wire(bp)


@bp.get("/B/<code>")
@bp.get("/b/<code>")
@allow("anyone")
def code(code: str) -> Response:
    """Asks for the digits; the same page for a code that leads nowhere. In capitals as a square on
    paper has it.
    """
    return _ask(code, LastFourForm())


@bp.post("/B/<code>")
@bp.post("/b/<code>")
@allow("anyone")
def open_page(code: str) -> Response:
    """To the customer's page, where code and digits fit."""
    form = LastFourForm()
    found = customer_last_four.ticket_of_code(store(), code, g.now)
    try:
        ticket_id = last_four_digits.check(found, form.digits.data or "", code)
    except FitCounterError as error:
        return _ask(code, form, error)
    token = customer_last_four.token_of(store(), ticket_id, customer_page.data_dir())
    return redirect(url_for("customer.page", token=token), 303)


def _ask(code: str, form: LastFourForm, wrong: FitCounterError | None = None) -> Response:
    if isinstance(wrong, Unavailable):
        raise wrong  # a page of its own keeps what was typed
    html = render_template(
        "customer/code.html",
        code=code[:20],
        form=form,
        wrong=wrong,
        lang=spoken().locale.replace("_", "-"),
        shop=the_shop(),
    )
    return make_response(html, refused_as(wrong))
