"""A photo of what does not feel right, from the customer to the shop."""

from __future__ import annotations

from flask import current_app, flash, redirect, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.front_desk import photos
from fitcounter.errors import FitCounterError
from fitcounter.web.customer.page import bp, show
from fitcounter.web.guards.access import act, allow, store
from fitcounter.web.guards.request_size import PHOTO_BYTES, sent_photo, takes_bytes


def _link_opens() -> bool:
    """Whether the link of the request opens a page, before anything of its body is read."""
    token = str((request.view_args or {}).get("token", ""))
    try:
        customer_page.ticket_of_link(store(), token, current_app.config["CLOCK"]())
    except FitCounterError:
        return False
    return True


@bp.post("/photo")
@allow("anyone")
@takes_bytes(PHOTO_BYTES, _link_opens)
def photo(token: str) -> Response:
    """Keeps it with the ticket, where the shop looks before it answers."""
    ticket = customer_page.ticket_of_link(store(), token, current_app.config["CLOCK"]())
    try:
        sender = act()
        photos.keep(store(), sender, ticket.id, None, photos.Shot("after", sent_photo(), sender.at))
    except FitCounterError as error:
        return show(token, error)
    flash(say("The shop has your photo."))
    return redirect(url_for("customer.page", token=token), 303)
