"""The token of a page's forms, masked anew for each answer: pages go out packed, and the length of
a packed page tells nothing of a token that never stands in two of them alike (BREACH, 2013).
"""

from __future__ import annotations

import secrets
from base64 import urlsafe_b64decode, urlsafe_b64encode
from typing import cast

from flask import Flask, g, request
from flask_wtf.csrf import CSRFProtect, generate_csrf, validate_csrf


def masked_token() -> str:
    """This answer's token: random bytes, then the token added to them bit by bit."""
    if "masked_token" not in g:
        token = generate_csrf().encode()
        pad = secrets.token_bytes(128)[: len(token)]  # a token has 92 bytes
        g.masked_token = urlsafe_b64encode(pad + _added(token, pad)).decode()
    return cast(str, g.masked_token)


def unmasked(sent: str | None) -> str | None:
    """The token under the mask; what has none comes back as it is. Never raises."""
    if not sent or "." in sent:  # a token itself has dots; its mask has none
        return sent
    try:
        held = urlsafe_b64decode(sent)
    except ValueError:
        return sent
    half = len(held) // 2
    return _added(held[:half], held[half : 2 * half]).decode("ascii", "replace")


def check(sent: str | None) -> None:
    """Is it this session's token? Raises wtforms.ValidationError."""
    validate_csrf(unmasked(sent))


class MaskedTokens(CSRFProtect):
    """Asks every form that changes something for the token, without its mask.

    unasked: the endpoints whose own view asks, or need not.
    """

    def __init__(self, unasked: frozenset[str] = frozenset()) -> None:
        super().__init__()
        self.unasked = unasked

    def init_app(self, app: Flask) -> None:
        super().init_app(app)
        app.jinja_env.globals["csrf_token"] = masked_token
        app.context_processor(lambda: {"csrf_token": masked_token})

    def _is_exempt(self) -> bool:
        return request.endpoint in self.unasked

    def _get_csrf_token(self) -> str | None:
        return unmasked(super()._get_csrf_token())


def _added(one: bytes, other: bytes) -> bytes:
    """Two texts of one length, bit by bit."""
    both = int.from_bytes(one, "big") ^ int.from_bytes(other, "big")
    return both.to_bytes(len(one), "big")
