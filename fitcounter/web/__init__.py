"""The web room: forms in, one desk call, a page out. create_app only wires."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from flask import Flask
from werkzeug.routing import IntegerConverter

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
from fitcounter.web.responses.compiled_pages import CompiledPages
from fitcounter.web.responses.made_once import Address, Pages, Sessions
from fitcounter.web.responses.static_text import WithStaticText
from fitcounter.web.responses.unindented import Unindented


class Id(IntegerConverter):
    """The number of a row in an address: figures 0 to 9 alone, and no more of them than the file
    can hold.
    """

    regex = "[0-9]{1,18}"


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
        **of_the_shop(settings, clock, connections),
        VERSION=version,
        CERTIFICATE_DAYS=certificate_days,
        STANDS_BY=stands_by,
    )
    if not stands_by:  # a copy was brought up to date when it came
        open_store(settings.data_dir / "shop.db").close()
    if settings.proxies == 1:
        app.wsgi_app = OfOurProxy(app.wsgi_app, settings.proxy)  # type: ignore[method-assign]
    app.jinja_environment = Pages
    # all of them stay, so that no count is kept of which was used last
    app.jinja_options = {"bytecode_cache": CompiledPages(), "cache_size": -1}
    app.session_interface = Sessions()
    app.url_rule_class = Address
    app.url_map.converters["int"] = Id
    _wire(app)
    app.jinja_env.globals.update(submission_id=submission_id)
    app.jinja_env.add_extension(Unindented)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    return app


def of_the_shop(
    settings: Settings, clock: Callable[[], datetime], connections: Callable[[Path], EachOpens]
) -> dict[str, object]:
    """What an application's configuration has from the shop it serves: all that differs between
    two applications of the program, but for what create_app says of the computer.
    """
    return {
        **_cookies_and_limits(settings),
        "TESTING": settings.testing,
        "SETTINGS": settings,
        "CLOCK": clock,
        "SHOP_FILE": connections(settings.data_dir / "shop.db"),
    }


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
    # RFC 8058: a mail program has no token
    csrf_token.MaskedTokens(frozenset({"customer.stop"})).init_app(app)
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
