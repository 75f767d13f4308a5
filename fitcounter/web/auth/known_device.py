"""The cookie of a device that somebody signed in on before: it opens nothing, and it gives that
person a count of wrong tries of their own there.

It holds a name of chance and who signed in, signed with the shop's key; no table knows it.
"""

from __future__ import annotations

import secrets

from flask import current_app, request
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from fitcounter.desk.staff.passphrase_and_pin import token_hash

A_YEAR_S = 365 * 86400
MOST_PEOPLE = 8  # of one device; the one who was there longest ago goes first


def known_as(initials: str) -> str:
    """The device's name where this person signed in on it before, else ''."""
    device, people = _read()
    return device if _mark(initials) in people else ""


def remember(answer: Response, initials: str) -> None:
    """Sets the cookie: this person signed in here now."""
    device, people = _read()
    mark = _mark(initials)
    people = [*(known for known in people if known != mark), mark][-MOST_PEOPLE:]
    answer.set_cookie(
        _name(),
        _signer().dumps([device or secrets.token_urlsafe(16), people]),
        max_age=A_YEAR_S,
        secure=request.is_secure,
        httponly=True,
        samesite="Lax",
    )


def _read() -> tuple[str, list[str]]:
    try:
        device, people = _signer().loads(request.cookies.get(_name(), ""))
        return str(device), [str(mark) for mark in people]
    except (BadSignature, ValueError, TypeError):
        return "", []


def _signer() -> URLSafeSerializer:
    keys = [*reversed(current_app.config["SECRET_KEY_FALLBACKS"]), current_app.config["SECRET_KEY"]]
    return URLSafeSerializer(keys, salt="known device")  # the last key signs, all are honoured


def _name() -> str:
    https = current_app.config["SETTINGS"].https
    return "__Host-fitcounter-known" if https else "fitcounter-known"


def _mark(initials: str) -> str:
    return token_hash(f"known {initials.strip().upper()}")[:16]
