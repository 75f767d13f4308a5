"""The last four digits of the customer's phone number, asked for before a page shows what is
theirs: a few tries, then a wait. Opened pages close again after half an hour.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from flask import current_app, g, request, url_for
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say_later
from fitcounter.desk.customer import last_four_digits as customer_last_four
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.errors import FitCounterError, TooManyTries
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import store

OPEN_FOR = timedelta(minutes=30)
_COOKIE = "agreed"


class LastFourForm(SavedForm):
    digits = TextField(say_later("The last four digits of your phone number"), most=20)


def check(ticket_id: int | None, typed: str, code: str = "") -> int:
    """The ticket, where the digits are the customer's; each try counts, a right one ends the count.

    code: as typed, where one led here. Raises BadInput, TooManyTries.
    """
    key = f"digits:{ticket_id or token_hash(code)}"
    staff_throttle.spend(store(), key, staff_throttle.LAST_FOUR, g.now)
    found = customer_last_four.check(store(), ticket_id, typed, by_code=bool(code))
    staff_throttle.forget(store(), key)
    return found


def refused_as(wrong: FitCounterError | None) -> int:
    """The status of the page that asks for the digits."""
    return 429 if isinstance(wrong, TooManyTries) else 422 if wrong else 200


def open_here(answer: Response, ticket_id: int, token: str) -> None:
    """Lets this phone see what was agreed, for a while."""
    answer.set_cookie(
        _COOKIE,
        _signer().dumps([ticket_id, token_hash(token), (g.now + OPEN_FOR).isoformat()]),
        max_age=int(OPEN_FOR.total_seconds()),
        path=url_for("customer.page", token=token),
        secure=request.is_secure,
        httponly=True,
        samesite="Lax",
    )


def is_open(ticket_id: int, token: str) -> bool:
    """Whether this phone typed the digits a short while ago."""
    kept = request.cookies.get(_COOKIE, "")
    try:
        *opens, until = _signer().loads(kept)
    except BadSignature:
        return False
    fits = opens == [ticket_id, token_hash(token)]
    return bool(fits and g.now < datetime.fromisoformat(until))


def _signer() -> URLSafeSerializer:
    return URLSafeSerializer(str(current_app.secret_key), salt="agreed")
