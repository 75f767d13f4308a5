"""Links that nobody should guess: a customer's page and the code of a phone.

Too many wrong ones from one address have to wait, and so has a link that writes again and again:
whoever holds it may write a few times an hour.
"""

from __future__ import annotations

import math

from flask import Flask, g, request
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say_n
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.errors import TooManyTries
from fitcounter.web.guards.access import store

_GUESSED = ("customer.", "customer_code.", "customer_look.", "owner.enrol")
_WRONG = (404, 410)


def _key() -> str:
    return f"link:{request.remote_addr}"


def _writer() -> str:
    """The key of the link that this form came with; '' for what is no form of a customer's."""
    if request.method != "POST" or not (request.endpoint or "").startswith("customer."):
        return ""
    return f"write:{token_hash(str((request.view_args or {}).get('token', '')))}"


def refuse_many_forms() -> None:
    """For the customer's pages, once their language is known. Raises TooManyTries."""
    if not _writer():
        return
    try:
        staff_throttle.check(store(), _writer(), staff_throttle.LINK_WRITES, g.now)
    except TooManyTries as error:
        raise TooManyTries(
            say_n(
                "You saved many times within an hour. Wait {count} minute, then save again.",
                "You saved many times within an hour. Wait {count} minutes, then save again.",
                math.ceil(error.wait_s / 60),
            ),
            wait_s=error.wait_s,
        ) from error


def wire(app: Flask) -> None:
    """Asks before, counts after."""

    @app.before_request
    def check() -> None:
        if (request.endpoint or "").startswith(_GUESSED):
            staff_throttle.check(store(), _key(), staff_throttle.LINK, g.now)

    @app.after_request
    def count(response: Response) -> Response:
        if not (request.endpoint or "").startswith(_GUESSED):
            return response
        if response.status_code in _WRONG:
            staff_throttle.missed(store(), _key(), staff_throttle.LINK, g.now)
        elif _writer() and response.status_code < 400:
            staff_throttle.missed(store(), _writer(), staff_throttle.LINK_WRITES, g.now)
        return response
