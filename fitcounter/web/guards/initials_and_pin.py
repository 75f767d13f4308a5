"""Whose hands hold a phone of the shop: initials tapped at Save, and the PIN for what not every
pair of hands may do.

No form knows of it. Initials and PIN travel beside a form's own fields, and where they are missing
the question is put on a page that carries the form along: one tap, and it is saved.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, TypeVar, cast

from flask import Flask, current_app, g, render_template, request
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Person, Store
from fitcounter.desk.staff import people, sign_in
from fitcounter.desk.staff.sign_in import SignedIn
from fitcounter.errors import FitCounterError, TooManyTries, Unavailable
from fitcounter.web.guards.action_words import action_words

WHO, PIN = "who", "pin"
UNSEEN = (WHO, PIN)  # travel beside a form and are no part of it
View = TypeVar("View", bound=Callable[..., Any])


def with_pin(*fields: str, **values: tuple[str, ...]) -> Callable[[View], View]:
    """Marks a view that takes the PIN on a phone of the shop: always, or when one of these fields
    is filled in or has such a value.
    """

    def mark(view: View) -> View:
        view.pin_fields, view.pin_values = fields, values  # type: ignore[attr-defined]
        return view

    return mark


def nobody(view: View) -> View:
    """Marks a view that keeps what is typed and is nobody's act: it asks for no initials."""
    view.by_nobody = True  # type: ignore[attr-defined]
    return view


def at_phone(store: Store, allowed: Iterable[str]) -> Response | None:
    """Settles who acts on a phone of the shop, and proves it where that is asked for; else a
    question to answer with.
    """
    view = current_app.view_functions[str(request.endpoint)]
    only_owner = set(allowed) == {"owner"}
    if request.method in ("GET", "HEAD", "OPTIONS"):
        may = not only_owner or (g.signed_in.person.role == "owner" and g.signed_in.proved)
        return (
            None
            if may
            else _ask(
                store,
                allowed,
                say("Only the owner can open this page. Tap your initials and type your PIN."),
                pin=True,
            )
        )
    if getattr(view, "by_nobody", False):
        return None
    signed_in = _tapped(store)
    if signed_in.asks_who:
        return _ask(
            store,
            allowed,
            say("Tap your initials to save."),
            pin=_wants_pin(view, only_owner),
        )
    if signed_in.person.role not in allowed:
        return _ask(
            store,
            allowed,
            say("Your role does not include this. Tap the initials of someone who may."),
            pin=_wants_pin(view, only_owner),
        )
    if _wants_pin(view, only_owner) and not signed_in.proved:
        return _prove(store, allowed, signed_in)
    g.signed_in = signed_in
    return None


def _tapped(store: Store) -> SignedIn:
    """The session with the initials that came with the form, if any came."""
    held = cast(SignedIn, g.signed_in)
    typed = request.form.get(WHO, "")
    if not (typed.isascii() and typed.isdigit() and len(typed) < 10):
        return held
    person = next((one for one in people.here(store) if one.id == int(typed)), None)
    if person is None:
        return replace(held, asks_who=True)
    same = person.id == held.person.id
    return replace(held, person=person, asks_who=False, proved=held.proved and same)


def _wants_pin(view: Callable[..., Any], only_owner: bool) -> bool:
    fields, values = getattr(view, "pin_fields", None), getattr(view, "pin_values", {})
    if only_owner or fields is None:
        return only_owner
    if any(sent in values[field] for field in values for sent in request.form.getlist(field)):
        return True
    return any(request.form.get(field) for field in fields) or not (fields or values)


def _prove(store: Store, allowed: Iterable[str], signed_in: SignedIn) -> Response | None:
    pin = request.form.get(PIN, "")
    if not pin:
        return _ask(store, allowed, say("Type your PIN to go on."), pin=True, who=signed_in.person)
    try:
        sign_in.check_pin(store, g.now, signed_in.person.id, pin, signed_in.phone_id or 0)
    except (TooManyTries, Unavailable):
        raise
    except FitCounterError as error:
        return _ask(store, allowed, error.sentence, pin=True, who=signed_in.person)
    g.signed_in = replace(signed_in, proved=True, proved_now=True)
    return None


def _ask(
    store: Store, allowed: Iterable[str], sentence: str, *, pin: bool, who: Person | None = None
) -> Response:
    """The question, with the form carried along.

    A question is 422, as everywhere: nothing is stored yet.
    """
    known = [one for one in people.here(store) if one.role in allowed]
    carried = [
        (key, value)
        for key, values in request.form.lists()
        for value in values
        if key not in ("csrf_token", *UNSEEN)
    ]
    own = request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")
    page = render_template(
        "errors/who.html",
        sentence=sentence,
        does=action_words(current_app, request.path) if request.method == "POST" else "",
        people=known,
        pin=pin,
        who=who,
        carried=carried if own else [],
        is_page=request.method == "GET",
        files=bool(request.files),
        nav=False,
    )
    return current_app.response_class(page, 422)


def keep_hands(store: Callable[[], Store]) -> None:
    """Remembers whose hands they are, after the form's token was found right."""
    held: SignedIn | None = g.get("signed_in")
    if held is None or held.phone_id is None or request.method != "POST" or held.asks_who:
        return
    sign_in.took_over(store(), g.now, held)


def choices() -> list[tuple[Person, bool]]:
    """For the foot of a form on a phone of the shop: everybody, and whether they were the last to
    tap. Empty elsewhere.
    """
    held: SignedIn | None = g.get("signed_in")
    if held is None or held.phone_id is None or "store" not in g:
        return []
    return [(one, one.id == held.person.id and not held.asks_who) for one in people.here(g.store)]


def wire(app: Flask, store: Callable[[], Store]) -> None:
    """After the token is checked."""
    app.before_request(lambda: keep_hands(store))
    app.jinja_env.globals["who_is_it"] = choices
