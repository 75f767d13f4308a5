"""Price and agreement: price, what may happen, the yes, the deposit; then papers and tags."""

from __future__ import annotations

from babel.numbers import get_currency_precision
from flask import current_app, flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.quote import agree as desk
from fitcounter.desk.quote import offer, price_list
from fitcounter.desk.quote.agree import TWO_PEOPLE
from fitcounter.desk.quote.offer import Offer
from fitcounter.desk.tags import attach as tags_attach
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.counter.agree_form import AgreeForm, agree_form, read_agreed, stands
from fitcounter.web.counter.today import bp
from fitcounter.web.guards.access import act, allow, store, the_shop


@bp.route("/tickets/<int:ticket_id>/agree", methods=["GET", "POST"])
@allow("counter", "owner")
def agree(ticket_id: int) -> Response | tuple[str, int]:
    """Keeps what was agreed and sends every thing at the counter to the bench."""
    shop = the_shop()
    offered = offer.make_offer(store(), shop, ticket_id, shop.today(g.now))
    page = tickets_page.look(store(), ticket_id)
    form = agree_form(offered, shop, page.customer.name)
    if form.is_submitted() and form.validate() and _kept(form, offered, ticket_id):
        number = tickets_page.look(store(), ticket_id).ticket.number
        flash(say("Ticket {number} is agreed. Print the tags and the claim check.", number=number))
        return redirect(url_for("counter.ticket", ticket_id=ticket_id), 303)
    if form.is_submitted() and form.seen_version not in (None, page.ticket.version):
        raise _both(Conflict(say(TWO_PEOPLE)), ticket_id)  # what it was about stands there no more
    ready = tags_attach.any_ready(store())
    return render_template(
        "counter/agree.html",
        form=form,
        offer=offered,
        page=page,
        tags_ready=ready,
        entries=price_list.entries(store()),
        digits=get_currency_precision(page.ticket.currency),
    ), (422 if form.is_submitted() else 200)


def _kept(form: AgreeForm, offered: Offer, ticket_id: int) -> bool:
    """Was it kept? Else the form has a sentence at what is wrong. Raises Conflict."""
    data_dir = current_app.config["SETTINGS"].data_dir
    try:
        agreed = read_agreed(store(), the_shop(), form, offered, g.now)
        desk.agree(store(), act(), the_shop(), ticket_id, agreed, data_dir, offered)
    except Conflict as error:
        raise _both(error, ticket_id) from error
    except FitCounterError as error:
        form.take(error)
        return False
    return True


def _both(error: Conflict, ticket_id: int) -> Conflict:
    """The same with what stands on the ticket now; where nothing waits to be agreed any more, it is
    settled.
    """
    page = tickets_page.look(store(), ticket_id)
    theirs = error.theirs or stands(page, the_shop())
    return Conflict(
        error.sentence,
        field=error.field,
        theirs=theirs,
        ticket_id=None if page.to_agree else ticket_id,
    )
