"""The web room: forms in, one desk call, a page out. create_app only wires."""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from datetime import UTC, datetime, timedelta
from functools import cache, lru_cache, partial
from pathlib import Path
from typing import Any

from flask import Flask, request
from flask.sessions import SecureCookieSessionInterface
from flask.templating import Environment
from itsdangerous import URLSafeTimedSerializer
from werkzeug.routing import IntegerConverter, Rule

from fitcounter.desk.shop import EachOpens, open_store
from fitcounter.settings import PROGRAM, STATIC, TEMPLATES, Settings, load_keys
from fitcounter.web.blueprints import BLUEPRINTS
from fitcounter.web.forms import signed_out_forms
from fitcounter.web.forms.saved_form import submission_id
from fitcounter.web.guards import access, csrf_token, initials_and_pin, link_throttle, request_size
from fitcounter.web.guards.behind_proxy import OfOurProxy
from fitcounter.web.offline import app_shell, waited_on_phone
from fitcounter.web.pages import drawings, error_pages, filters
from fitcounter.web.responses import how_far, page_gzip, security_headers, static_gzip
from fitcounter.web.responses.static_text import WithStaticText
from fitcounter.web.responses.unindented import Unindented

MOST_ADDRESSES = 4096


class Id(IntegerConverter):
    """The number of a row in an address: figures 0 to 9 alone, and no more of them than the file
    can hold.
    """

    regex = "[0-9]{1,18}"


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


def now_utc() -> datetime:
    return datetime.now(UTC)


def no_certificate(now: datetime) -> int | None:
    return None


def create_app(
    settings: Settings,
    clock: Callable[[], datetime] = now_utc,
    connections: Callable[[Path], EachOpens] = EachOpens,
    certificate_days: Callable[[datetime], int | None] = no_certificate,
    stands_by: bool = False,
) -> Flask:
    """The program as a WSGI application on one shop's data folder.

    clock: read once a request. connections: KeptOpen for a server. certificate_days: whole days
    until the shop's own certificate ends, None without one; for the health page. stands_by: the
    shop is on another computer, and here only looked at.
    """
    version = app_shell.version(PROGRAM)
    app = WithStaticText(
        "fitcounter",
        root_path=str(PROGRAM),
        template_folder=str(TEMPLATES),
        static_folder=str(STATIC),
        static_url_path=f"/static/{version}",
    )
    app.config.update(
        **_cookies_and_limits(settings),
        TESTING=settings.testing,
        VERSION=version,
        SETTINGS=settings,
        CLOCK=clock,
        CERTIFICATE_DAYS=certificate_days,
        SHOP_FILE=connections(settings.data_dir / "shop.db"),
        STANDS_BY=stands_by,
    )
    if not stands_by:  # a copy was brought up to date when it came
        open_store(settings.data_dir / "shop.db").close()
    if settings.proxies == 1:
        app.wsgi_app = OfOurProxy(app.wsgi_app, settings.proxy)  # type: ignore[method-assign]
    app.jinja_environment = Pages
    app.session_interface = Sessions()
    app.url_rule_class = Address
    app.url_map.converters["int"] = Id
    _wire(app)
    app.jinja_env.globals.update(submission_id=submission_id, url_for=address_of(app))
    app.jinja_env.add_extension(Unindented)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    return app


def _cookies_and_limits(settings: Settings) -> dict[str, object]:
    keys = load_keys(settings.data_dir)
    return {
        "SECRET_KEY": keys.secret_key,
        "SECRET_KEY_FALLBACKS": list(keys.fallbacks),
        "WTF_CSRF_SECRET_KEY": keys.csrf_key,
        "WTF_CSRF_TIME_LIMIT": (
            None
        ),  # a form left open over lunch is still good; the token lives as long as the session
        "WTF_CSRF_SSL_STRICT": (
            False
        ),  # access checks Origin itself, so that pages may send no referrer
        "SESSION_COOKIE_NAME": "__Host-fitcounter" if settings.https else "fitcounter",
        "SESSION_COOKIE_SECURE": settings.https,
        "SESSION_COOKIE_HTTPONLY": True,
        "SESSION_COOKIE_SAMESITE": "Lax",
        "PERMANENT_SESSION_LIFETIME": timedelta(days=2),
        "SESSION_REFRESH_EACH_REQUEST": (
            False
        ),  # the server ends sessions; a file that brings a cookie would be fetched anew each time
        "MAX_CONTENT_LENGTH": request_size.FORM_BYTES,
        "TRUSTED_HOSTS": list(settings.trusted_hosts) or None,
        "SEND_FILE_MAX_AGE_DEFAULT": static_gzip.YEAR_S,  # the address of a file holds its version
    }


def _wire(app: Flask) -> None:
    """In the order in which a request meets them."""
    page_gzip.wire(app)
    request_size.wire(app)
    access.wire(app)
    link_throttle.wire(app)
    csrf = csrf_token.MaskedTokens()
    csrf.exempt("fitcounter.web.customer.mail_stop.stop")  # RFC 8058: a mail program has no token
    csrf.init_app(app)
    initials_and_pin.wire(app, access.store)
    for room in (
        signed_out_forms,
        error_pages,
        security_headers,
        how_far,
        waited_on_phone,
        static_gzip,
        filters,
        drawings,
    ):
        room.wire(app)
