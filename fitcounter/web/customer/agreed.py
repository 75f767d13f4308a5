"""What was agreed, with its papers, behind the last four digits of the phone number."""

from __future__ import annotations

from flask import abort, g, make_response, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import spoken
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer.agreed import agreed_page
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.errors import FitCounterError, Unavailable
from fitcounter.web.customer import last_four_digits
from fitcounter.web.customer.last_four_digits import LastFourForm, refused_as
from fitcounter.web.customer.page import bp, data_dir
from fitcounter.web.guards.access import allow, store, the_shop
from fitcounter.web.responses.pdf import base_url, customers_paper


@bp.get("/agreed")
@allow("anyone")
def agreed(token: str) -> Response:
    """The bill and the papers; on a phone that has not typed the digits, the field for them."""
    return _show(token, LastFourForm())


@bp.post("/agreed")
@allow("anyone")
def open_agreed(token: str) -> Response:
    """Opens it on this phone for a while."""
    form = LastFourForm()
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        last_four_digits.check(ticket.id, form.digits.data or "")
    except FitCounterError as error:
        return _show(token, form, error)
    answer = redirect(url_for(".agreed", token=token), 303)
    last_four_digits.open_here(answer, ticket.id, token)
    return answer


@bp.get("/papers/<name>.pdf")
@allow("anyone")
def own_paper(token: str, name: str) -> ResponseReturnValue:
    """The claim check or the agreement, once the digits were typed."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    if not last_four_digits.is_open(ticket.id, token):
        return redirect(url_for(".agreed", token=token), 303)
    if name == "agreement":
        record = documents_ticket.consent_record(store(), the_shop(), ticket.id, data_dir())
        return customers_paper(lambda _, press: documents_ticket.consent_paper(record, press), name)
    if name != "claim-check":
        abort(404)
    check = documents_ticket.claim_check(
        store(), the_shop(), ticket.id, base_url(), data_dir(), g.now
    )
    return customers_paper(lambda _, press: documents_ticket.claim_paper(check, press), name)


def _show(token: str, form: LastFourForm, wrong: FitCounterError | None = None) -> Response:
    if isinstance(wrong, Unavailable):
        raise wrong  # a page of its own keeps what was typed
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    opened = last_four_digits.is_open(ticket.id, token)
    bill = agreed_page(store(), the_shop(), ticket, spoken().code) if opened else None
    html = render_template(
        "customer/agreed.html",
        token=token,
        form=form,
        wrong=wrong,
        bill=bill,
        number=ticket.number,
        lang=spoken().locale.replace("_", "-"),
        shop=the_shop(),
    )
    return make_response(html, refused_as(wrong))
