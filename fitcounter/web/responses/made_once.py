"""What the framework makes for each request or at the start, made once, or when it is first needed:
the names that templates see, the addresses they link to, and what signs the cookies.
"""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from functools import cache, lru_cache, partial
from typing import Any

from flask import Flask, request
from flask.sessions import SecureCookieSessionInterface
from flask.templating import Environment
from itsdangerous import URLSafeTimedSerializer
from werkzeug.routing import Rule

MOST_ADDRESSES = 4096


class Address(Rule):
    """An address of the program. How it is written is compiled when a page first links to it: for
    all of them at once it took most of the start.
    """

    def _compile_builder(self, append_unknown: bool = True) -> Callable[..., tuple[str, str]]:
        compiled = cache(partial(super()._compile_builder, append_unknown))
        return lambda rule, **values: compiled()(rule, **values)


class Pages(Environment):
    """All templates see the same names. The library lays two dictionaries over each other for each
    template, which every part of a page asks name by name, in Python.
    """

    def make_globals(self, d: MutableMapping[str, Any] | None) -> MutableMapping[str, Any]:
        return {**self.globals, **d} if d else self.globals


class Sessions(SecureCookieSessionInterface):
    """What signs the cookies is made once of an application's keys, not twice a request."""

    def __init__(self) -> None:
        self.signer = cache(super().get_signing_serializer)

    def get_signing_serializer(self, app: Flask) -> URLSafeTimedSerializer | None:
        return self.signer(app)


def address_of(app: Flask) -> Callable[..., str]:
    """What templates call `url_for`: the address of an endpoint, built once for the same numbers.

    Those with words, such as a customer's link, are built each time and kept nowhere, but for the
    names of our files and steps.
    """

    @lru_cache(maxsize=MOST_ADDRESSES)
    def built(_: str, endpoint: str, values: tuple[tuple[str, Any], ...]) -> str:
        return app.url_for(endpoint, **dict(values))

    def url_for(endpoint: str, **values: Any) -> str:
        ours = endpoint == "static" or endpoint.startswith("items.")
        if ours or all(type(one) is int for one in values.values()):
            return built(request.root_path, endpoint, tuple(values.items()))
        return app.url_for(endpoint, **values)

    return url_for
