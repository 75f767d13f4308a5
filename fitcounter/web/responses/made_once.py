"""What the framework makes for each request or at the start, made once, or when it is first needed:
the names that templates see, the addresses they link to, and what signs the cookies.
"""

from __future__ import annotations

import time
from collections.abc import Callable, MutableMapping
from functools import cache, lru_cache, partial
from typing import Any

from flask import Flask, Request, Response, has_request_context, request
from flask.sessions import SecureCookieSession, SecureCookieSessionInterface, SessionMixin
from flask.templating import Environment
from itsdangerous import BadSignature, URLSafeTimedSerializer
from werkzeug.routing import Rule

MOST_ADDRESSES = 4096
MOST_COOKIES = 256


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
    """What signs the cookies is made once of an application's keys, not twice a request; and a
    cookie that comes back letter for letter, as it does all day, has its signature reckoned once.
    Its age is looked at each time.
    """

    def __init__(self) -> None:
        self.signer = cache(super().get_signing_serializer)
        self._signed_s = lru_cache(maxsize=MOST_COOKIES)(_signed_s)

    def get_signing_serializer(self, app: Flask) -> URLSafeTimedSerializer | None:
        return self.signer(app)

    def open_session(self, app: Flask, request: Request) -> SecureCookieSession | None:
        signer, cookie = self.signer(app), request.cookies.get(self.get_cookie_name(app))
        if signer is None or not cookie:
            return super().open_session(app, request)
        try:
            age_s = int(time.time()) - self._signed_s(signer, cookie)
        except BadSignature:
            return self.session_class()
        if not 0 <= age_s <= app.permanent_session_lifetime.total_seconds():
            return self.session_class()
        payload, _, _ = cookie.rsplit(".", 2)
        return self.session_class(signer.load_payload(payload.encode()))

    def save_session(self, app: Flask, session: SessionMixin, response: Response) -> None:
        """What was only read sets no cookie: of it nothing is looked up."""
        if not session or session.modified or app.config["SESSION_REFRESH_EACH_REQUEST"]:
            super().save_session(app, session, response)
        elif session.accessed:
            response.vary.add("Cookie")


# What the framework takes beside the values of an address.
_BEYOND_THE_PATH = frozenset(("_anchor", "_external", "_method", "_scheme"))
_INT = frozenset((int,))


def _signed_s(signer: URLSafeTimedSerializer, cookie: str) -> int:
    """When it was signed, in seconds since 1970. Raises BadSignature."""
    _, at = signer.loads(cookie, return_timestamp=True)
    return int(at.timestamp())


class Application(Flask):
    """Builds the address of an endpoint once for the same numbers, for views and templates.

    Those with words, such as a customer's link, are built each time and kept nowhere, but for the
    names of our files and steps; nor are those that depend on more than the path of the program.
    """

    def __init__(self, *given: Any, **more: Any) -> None:
        super().__init__(*given, **more)
        self._built = lru_cache(maxsize=MOST_ADDRESSES)(self._build)

    def ensure_sync(self, func: Callable[..., Any]) -> Callable[..., Any]:
        """No function of ours is a coroutine; the framework looks each time it calls one."""
        return func

    def redirect(self, location: str, code: int = 302) -> Response:
        """Without a page of its own: browsers show none, and the framework's is in English."""
        return Response(status=code, headers={"Location": location})

    def url_for(self, /, endpoint: str, **values: Any) -> str:
        told = values
        if None in values.values():
            told = {name: one for name, one in values.items() if one is not None}
        ours = endpoint == "static" or endpoint.startswith("items.")
        if (
            endpoint[0] == "."  # of the room that asks
            or not _BEYOND_THE_PATH.isdisjoint(told)
            or not (ours or _INT.issuperset(map(type, told.values())))
            or not has_request_context()
        ):
            return super().url_for(endpoint, **told)
        return self._built(request.root_path, endpoint, tuple(told.items()))

    def _build(self, _: str, endpoint: str, values: tuple[tuple[str, Any], ...]) -> str:
        return super().url_for(endpoint, **dict(values))
