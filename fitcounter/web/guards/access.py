"""Who may open what: deny by default.

A view says who with @allow; a view that says nobody opens to nobody.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from contextlib import suppress
from contextvars import Token
from datetime import UTC, datetime
from typing import Any, TypeVar
from urllib.parse import urlsplit

from flask import Flask, abort, current_app, g, redirect, request, session, url_for
from werkzeug.wrappers import Response

from fitcounter.desk import shop
from fitcounter.desk.common.translation import (
    Speech,
    marked,
    say,
    speak,
    speak_as_before,
    speech_at,
    spoken,
)
from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.desk.staff import sign_in
from fitcounter.desk.staff.sign_in import Device, SignedIn
from fitcounter.errors import NotAllowed, Unavailable
from fitcounter.web.guards import initials_and_pin, stand_by_look_only

STAFF = ("counter", "bench", "owner")
AT_PHONE = {"counter", "bench"}  # what everybody may look at on a phone of the shop
_NOT_SAID = ("csrf_token", "submission_id", "parked", *initials_and_pin.UNSEEN)
View = TypeVar("View", bound=Callable[..., Any])

# The places of the program in the order of the foot of the page, and who sees them.
PLACES = (
    ("counter.today", marked("Today"), STAFF),
    ("counter.new_job", marked("New job"), ("counter", "owner")),
    ("bench.bench", marked("Bench"), STAFF),
    ("pickup.pickup", marked("Pickup"), ("counter", "owner")),
    ("owner.book", marked("Book"), ("owner",)),
    ("owner.shop", marked("Shop"), ("owner",)),
)

# First match wins: many browsers also name the ones they descend from.
_BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser", "Samsung Internet"),
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chrom", "Chrome"),
    ("Safari", "Safari"),
)
_SYSTEMS = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Mac OS", "Mac"),
    ("Linux", "Linux"),
)


def allow(*roles: str) -> Callable[[View], View]:
    """Marks a view with the roles that may open it; 'anyone' needs no sign-in."""

    def mark(view: View) -> View:
        view.allowed = roles  # type: ignore[attr-defined]
        return view

    return mark


def store() -> Store:
    """This request's connection, taken when first asked for."""
    held: Store | None = g.get("store")
    if held is None:
        held = g.store = current_app.config["SHOP_FILE"].enter()
    return held


def the_shop() -> shop.Shop:
    known: shop.Shop | None = g.get("shop")
    if known is None:
        known = g.shop = shop.read(store())
    return known


def act() -> Act:
    """Who does this, now, with the submission id of the form and a hash of where it was sent and of
    what came with it.
    """
    signed_in: SignedIn | None = g.signed_in
    form = request.form
    sent = dict(zip(form, form.listvalues(), strict=True))
    for key in _NOT_SAID:
        sent.pop(key, None)
    said = sorted(sent.items())
    return Act(
        g.now,
        signed_in.person.id if signed_in else None,
        signed_in.phone_id if signed_in else None,
        form.get("submission_id") or None,
        hashlib.sha256(repr((request.path, said)).encode()).hexdigest(),
    )


def device() -> Device:
    """Where this request comes from."""
    return Device(
        request.remote_addr or "", _device_words(request.headers.get("User-Agent", "")), g.phone
    )


def _device_words(user_agent: str) -> str:
    """What a device calls itself, as it is kept for the list of sessions: "Chrome on Android"; ""
    where it does not say.
    """
    browser = next((words for mark, words in _BROWSERS if mark in user_agent), "")
    system = next((words for mark, words in _SYSTEMS if mark in user_agent), "")
    if browser and system:
        return f"{browser} on {system}"
    return browser or system


def phone_cookie() -> str:
    """The name of the cookie that a phone of the shop is known by."""
    return "__Host-fitcounter-phone" if current_app.config["SETTINGS"].https else "fitcounter-phone"


def wire(app: Flask) -> None:
    """Hooks the checks in front of every view.

    The check of the form's token comes after them, whose hands they are after that.
    """
    app.before_request(_open_request)
    app.before_request(_speak)
    app.before_request(stand_by_look_only.refuse)
    app.before_request(_same_origin)
    app.before_request(_may_enter)
    app.teardown_request(_fall_silent)
    app.teardown_appcontext(_close)
    app.context_processor(_for_templates)


def _open_request() -> None:
    # looked up once: each look at what is known just now goes through a context
    asked = request._get_current_object()  # type: ignore[attr-defined]
    known = g._get_current_object()
    now, phone = current_app.config["CLOCK"](), None
    known.now, known.signed_in, known.phone = now, None, None
    if asked.endpoint in (None, "static"):
        return
    secret, token = asked.cookies.get(phone_cookie()), session.get("token")
    if not (secret or token):
        return
    file = store()
    if secret:
        known.phone = phone = staff_phones.of_secret(file, secret)
    if not token:
        return
    known.signed_in = signed_in = sign_in.who(file, token, now, phone)
    if signed_in is not None:
        with suppress(Unavailable):  # a full disk must not keep anybody from reading
            sign_in.touch(file, now, signed_in)


def _speak() -> None:
    """Whatever this request says is said in the language of whoever reads it: theirs, or the
    shop's.
    """
    if request.endpoint not in (None, "static"):
        signed_in: SignedIn | None = g.signed_in
        speak_here(speech_at(the_shop(), signed_in.person.language if signed_in else ""))


def speak_here(language: Speech | str) -> None:
    """The rest of this request is said in this language."""
    g.setdefault("spoken_before", speak(language))


def _fall_silent(_: BaseException | None) -> None:
    """The next request speaks its own language."""
    before: Token[Speech] | None = g.pop("spoken_before", None)
    if before is not None:
        speak_as_before(before)


def _same_origin() -> None:
    """A form of another site is refused even with a token: Origin where the browser sends it,
    Sec-Fetch-Site beside it.
    """
    if request.method in ("GET", "HEAD", "OPTIONS"):
        return
    headers = request.headers
    origin = headers.get("Origin")
    # a page that sends no referrer sends "null" for its own forms; Sec-Fetch-Site tells those from
    # another site's
    foreign = origin not in (None, "null") and _is_foreign(str(origin))
    if foreign or headers.get("Sec-Fetch-Site") in ("cross-site", "same-site"):
        raise NotAllowed(
            say(
                "This form came from another site, so it was not saved. Open the page here and save"
                " again."
            )
        )


def _is_foreign(origin: str) -> bool:
    """Another host, or the plain HTTP page of a shop that speaks HTTPS: whoever sits in the network
    can write that one.
    """
    where = urlsplit(origin)
    return where.netloc != request.host or (
        current_app.config["SETTINGS"].https and where.scheme != "https"
    )


def _may_enter() -> Response | None:
    endpoint = request.endpoint
    if endpoint is None or endpoint == "static":
        return None
    allowed = getattr(current_app.view_functions[endpoint], "allowed", ())
    if "anyone" in allowed:
        return None
    if g.signed_in is None:
        if request.method != "GET" or request.headers.get("Accept", "").startswith(
            "application/json"
        ):
            abort(401)
        return redirect(url_for("owner.sign_in", next=request.full_path.rstrip("?")), 303)
    return refused(allowed)


def refused(allowed: tuple[str, ...]) -> Response | None:
    """Whoever is signed in and none of these: raises NotAllowed, or on a phone of the shop gives a
    question to answer with. None for whoever may.
    """
    signed_in: SignedIn = g.signed_in
    if signed_in.phone_id is not None:
        return initials_and_pin.at_phone(store(), allowed)
    if signed_in.person.role not in allowed:
        raise NotAllowed(say("Your role does not include this page. Ask the owner for it."))
    return None


def _close(_: BaseException | None) -> None:
    held = g.pop("store", None)
    if held is not None:
        current_app.config["SHOP_FILE"].leave(held)


def _for_templates() -> dict[str, Any]:
    signed_in: SignedIn | None = g.get("signed_in")
    mine = (
        {signed_in.person.role} | (AT_PHONE if signed_in.phone_id else set())
        if signed_in
        else set()
    )
    return {
        "signed_in": signed_in,
        "places": [
            (endpoint, say(label))
            for endpoint, label, roles in PLACES
            if mine & set(roles) and endpoint in current_app.view_functions
        ],
        "place": request.endpoint,
        "lang": spoken().locale.replace("_", "-"),
        "hours": spoken().hours,
        "shop": the_shop() if "store" in g or signed_in else None,
        "shop_name": the_shop().name if "store" in g or signed_in else "",
        "plain_http": (
            bool(signed_in)
            and not request.is_secure
            and request.host.split(":")[0] not in ("localhost", "127.0.0.1")
        ),
        "now": g.get("now") or datetime.now(UTC),
        "stands_by": stand_by_look_only.words(store, the_shop),
    }
