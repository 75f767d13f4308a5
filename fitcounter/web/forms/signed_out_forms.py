"""A form that came when its sender was signed out is kept for that person, who sends it again after
signing in.
"""

from __future__ import annotations

from contextlib import suppress

from flask import Blueprint, Flask, current_app, g, render_template, request, session
from werkzeug.wrappers import Response
from wtforms import ValidationError

from fitcounter.desk.shop import Act
from fitcounter.desk.staff import sign_in
from fitcounter.desk.staff import signed_out_forms as staff_signed_out_forms
from fitcounter.errors import FitCounterError
from fitcounter.web.forms.saved_form import typed
from fitcounter.web.guards import csrf_token
from fitcounter.web.guards.access import STAFF, allow, store
from fitcounter.web.guards.action_words import WORDS, action_words

bp = Blueprint("parked", __name__)


@bp.get("/kept/<parked_id>")
@allow(*STAFF)
def kept(parked_id: str) -> str:
    """What the person typed and what it does, with one button that sends it where it was going."""
    form = staff_signed_out_forms.get(store(), parked_id, g.signed_in.person.id, g.now)
    does = action_words(current_app, form.path)
    return render_template("shop/signed_out_form.html", kept=form, does=does)


def keep() -> str:
    """Keeps the form of this request, where it carries the token of a session that was ours on this
    device and its person may do such a thing still.

    Returns its id, or ''.
    """
    reference, pairs = session.get("token"), typed()
    if (
        request.method != "POST" or not reference or not pairs or "Outbox" in request.headers
    ):  # what waits on a phone is safe there
        return ""
    with suppress(FitCounterError, ValidationError):  # what was typed still stands on the page
        csrf_token.check(request.form.get("csrf_token"))
        phone_id = g.phone.id if g.get("phone") else None
        person = sign_in.sender_of(store(), reference, phone_id)
        if person is not None and person.role in _allowed() and request.endpoint in WORDS:
            path = request.full_path.rstrip("?")
            return staff_signed_out_forms.keep(store(), Act(g.now, person.id), path, pairs)
    return ""


def _allowed() -> tuple[str, ...]:
    return getattr(current_app.view_functions.get(request.endpoint or ""), "allowed", ())


def _by_its_sender() -> None:
    """A form that was kept is saved by who typed it, whoever's tap it comes with."""
    form_id = request.form.get("parked") if request.method == "POST" else None
    if form_id and g.get("signed_in"):
        staff_signed_out_forms.check_sender(store(), form_id, g.signed_in.person.id)


def wire(app: Flask) -> None:
    """Checks who sends a kept form; what was sent again and saved is kept no longer."""
    app.before_request(_by_its_sender)

    @app.after_request
    def drop(response: Response) -> Response:
        if (
            request.method == "POST"
            and response.status_code == 303
            and g.get("signed_in")
            and request.form.get("parked")
        ):
            with suppress(FitCounterError):
                staff_signed_out_forms.drop(store(), request.form["parked"])
        return response
