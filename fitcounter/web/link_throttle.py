"""Links that nobody should guess: her page and the code of a phone.

Too many wrong ones from one address have to wait.
"""

from __future__ import annotations

from flask import Flask, g, request
from werkzeug.wrappers import Response

from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.web.access import store

_GUESSED = ("customer.", "owner.enrol")
_WRONG = (404, 410)


def _key() -> str:
    return f"link:{request.remote_addr}"


def wire(app: Flask) -> None:
    """Asks before, counts after."""

    @app.before_request
    def check() -> None:
        if (request.endpoint or "").startswith(_GUESSED):
            staff_throttle.check(store(), _key(), staff_throttle.LINK, g.now)

    @app.after_request
    def count(response: Response) -> Response:
        if (request.endpoint or "").startswith(_GUESSED) and response.status_code in _WRONG:
            staff_throttle.missed(store(), _key(), staff_throttle.LINK, g.now)
        return response
