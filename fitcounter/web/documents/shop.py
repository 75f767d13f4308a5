"""Papers beyond a ticket's tags and claim check: on the Shop's own page, and beside each ticket."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from flask import current_app, flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from fitcounter.desk.common.fields import read_whole
from fitcounter.desk.common.translation import say_later, say_n
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.documents import evening_sheet, rulers_and_slips, tags_in_advance
from fitcounter.desk.documents import receipt_and_letters as documents_customer
from fitcounter.desk.settings.setting_groups import FEW
from fitcounter.desk.shop import Store
from fitcounter.errors import FitCounterError
from fitcounter.web.documents.ticket import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop
from fitcounter.web.responses.pdf import base_url, customers_paper, printed


class TagsForm(SavedForm):
    sets = TextField(say_later("How many sets"), most=3)


@bp.route("/papers", methods=["GET", "POST"], endpoint="shelf")
@allow(*STAFF)
def shop_papers() -> Response | tuple[str, int]:
    """What can be printed, and numbered tags made on a quiet evening."""
    form = TagsForm()
    if form.validate_on_submit():
        try:
            sets = read_whole(
                form.sets.data,
                1,
                tags_in_advance.MOST_TAGS // len(tags_in_advance.SET),
                "sets",
                "numbers",
            )
            tags_in_advance.make_tags(store(), act(), sets)
            flash(
                say_n(
                    "{count} set of tags is made. Next: print it.",
                    "{count} sets of tags are made. Next: print them.",
                    sets,
                )
            )
            return redirect(url_for(".shelf"), 303)
        except FitCounterError as error:
            form.take(error)
    return _shelf(form), 422 if form.is_submitted() else 200


def _shelf(form: TagsForm) -> str:
    return render_template(
        "shop/papers.html",
        form=form,
        free=tags_in_advance.free_tags(store()),
        slip_paper=FEW["slip_paper"][the_shop().slip_paper],
    )


@bp.get("/papers/<any('evening', 'rulers', 'slips', 'tags'):which>.pdf")
@allow(*STAFF)
def sheet(which: str) -> ResponseReturnValue:
    """The evening sheet, the rulers, blank slips, or the tags that hang ready."""
    shop, now, base = the_shop(), g.now, base_url()
    size = request.args.get("paper", "label")
    made: dict[str, Callable[[Store], bytes]] = {
        "evening": lambda held: evening_sheet.evening_pdf(held, shop, now),
        "rulers": lambda _: rulers_and_slips.rulers_pdf(shop),
        "slips": lambda _: rulers_and_slips.slips_pdf(shop),
        "tags": lambda held: tags_in_advance.free_tags_pdf(held, shop, base, size),
    }
    return printed(made[which], which)


@bp.get("/tickets/<int:ticket_id>/<any('receipt', 'leg-card', 'notice'):which>.pdf")
@allow("counter", "owner")
def of_ticket(ticket_id: int, which: str) -> ResponseReturnValue:
    """The receipt with the guarantee, her leg card, or a letter about things not fetched."""
    place = base_url(), Path(current_app.config["SETTINGS"].data_dir)
    shop, now, receipt_of = the_shop(), g.now, _receipt_of()
    made: dict[str, Callable[[Store, documents_ticket.Press], bytes]] = {
        "receipt": lambda held, press: documents_customer.receipt(
            held, shop, ticket_id, place, press, receipt_of
        ),
        "leg-card": lambda held, press: documents_customer.leg_card(held, shop, ticket_id, press),
        "notice": lambda held, press: documents_customer.notice(held, shop, ticket_id, now, press),
    }
    return customers_paper(made[which], which)


def _receipt_of() -> documents_customer.ReceiptOf:
    """?payment=, ?handover=: which of them; neither: all that was picked up."""
    asked = (request.args.get(name, "") for name in ("payment", "handover"))
    ids = (int(one) if one.isascii() and one.isdigit() and len(one) < 12 else None for one in asked)
    return documents_customer.ReceiptOf(*ids)
