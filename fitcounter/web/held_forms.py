"""A form that came too late is kept, and sent again after signing in."""

from __future__ import annotations

from contextlib import suppress

from flask import Blueprint, Flask, g, render_template, request, session
from werkzeug.wrappers import Response

from fitcounter.desk.shop import Act
from fitcounter.desk.staff import held_forms as staff_held_forms
from fitcounter.desk.staff import sign_in
from fitcounter.errors import FitCounterError
from fitcounter.web.access import STAFF, allow, store
from fitcounter.web.forms import typed

bp = Blueprint("parked", __name__)


@bp.get("/kept/<parked_id>")
@allow(*STAFF)
def kept(parked_id: str) -> str:
    """What was typed, with one button that sends it again to where it was going."""
    return render_template("shop/saved.html", kept=staff_held_forms.get(store(), parked_id, g.now))


def keep() -> str:
    """Keeps the form of this request when it comes from a session that was ours once.

    Returns its id, or ''.
    """
    token = session.get("token")
    pairs = typed()
    if (
        request.method != "POST" or not token or not pairs or "Outbox" in request.headers
    ):  # what waits on a phone is safe there
        return ""
    with suppress(FitCounterError):  # a full disk: what was typed still stands on the page
        person = sign_in.ended_for(store(), token)
        if person is not None:
            return staff_held_forms.park(
                store(), Act(g.now, person.id), request.full_path.rstrip("?"), pairs
            )
    return ""


def wire(app: Flask) -> None:
    """What was sent again and saved is kept no longer."""

    @app.after_request
    def drop(response: Response) -> Response:
        if (
            request.method == "POST"
            and response.status_code == 303
            and g.get("signed_in")
            and request.form.get("parked")
        ):
            with suppress(FitCounterError):
                staff_held_forms.drop(store(), request.form["parked"])
        return response
