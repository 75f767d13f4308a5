"""What waited on a phone: how long ago it was typed, and an answer that says "saved" without a
page.

A phone sends what it kept with the header Outbox (now: somebody looks at the answer; later: in the
background) and Outbox-Age, seconds since it was typed. The age, not the hour: both ends of it were
read from the same phone's clock. Outbox-By is the number of whoever was signed in then: nobody's
words are saved as another's unless they say so.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import cast

from flask import Flask, g, request, session
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.errors import Conflict

LONGEST_AGE_S = 30 * 86400


def typed_at() -> datetime:
    """The instant it was typed: now, or earlier where it waited on a phone.

    Never later than now, at most 30 days ago.
    """
    now = cast(datetime, g.now)
    age = request.headers.get("Outbox-Age", "")
    known = age.isascii() and age.isdigit() and len(age) < 9
    return now - timedelta(seconds=min(int(age), LONGEST_AGE_S)) if known else now


def _by_the_same_person() -> None:
    """On a phone of the shop initials are tapped at every save, and stand in the form itself."""
    by, signed_in = request.headers.get("Outbox-By", ""), g.get("signed_in")
    if (
        not by
        or signed_in is None
        or signed_in.phone_id is not None
        or by == str(signed_in.person.id)
    ):
        return
    raise Conflict(
        say(
            "Somebody else was signed in on this phone when it was typed. Open it again to"
            " save it as yours."
        )
    )


def wire(app: Flask) -> None:
    """Marks every answer to an outbox as ours, so that a hotel's sign-in page is never taken for a
    saved reading.
    """
    app.before_request(_by_the_same_person)

    @app.after_request
    def answer(response: Response) -> Response:
        how = request.headers.get("Outbox")
        if how is None:
            return response
        if how == "later":
            session.pop("_flashes", None)  # nobody sees them, and fifty would not fit the cookie
        saved = response.status_code == 303
        response.headers["Outbox"] = "saved" if saved else "refused"
        if saved:
            response.headers["Outbox-Next"] = response.headers.pop("Location")
            response.set_data(b"")
            response.status_code = 204
            del response.headers["Content-Type"]
        return response
