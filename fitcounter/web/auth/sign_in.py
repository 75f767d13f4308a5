"""Signing in by passphrase or, on a phone of the shop, by PIN; signing out; a phone that
becomes one of the shop's.
"""

from __future__ import annotations

from dataclasses import replace
from urllib.parse import quote, urlsplit

from flask import Blueprint, flash, g, redirect, render_template, request, session, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import PasswordField, RadioField

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.desk.staff import people
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.desk.staff import sign_in as staff_sign_in
from fitcounter.desk.staff.sign_in import SignedIn
from fitcounter.errors import NotAllowed, TooManyTries
from fitcounter.web.auth import known_device
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import STAFF, act, allow, device, phone_cookie, store
from fitcounter.web.guards.initials_and_pin import with_pin
from fitcounter.web.pages.error_pages import refused

bp = Blueprint("owner", __name__)
A_YEAR_S = 365 * 86400


class SignInForm(FlaskForm):
    initials = TextField(
        say_later("Your initials"),
        most=8,
        needed=say_later("Type your initials, as the owner set them up."),
    )
    passphrase = PasswordField(say_later("Your passphrase"))


class OpenForm(FlaskForm):
    """On a phone of the shop, once a shift. who: picked by initials."""

    who = RadioField(say_later("Who opens this phone?"), choices=[], validate_choice=False)
    pin = PasswordField(say_later("PIN, six digits"))


class EnrolForm(SavedForm):
    label = TextField(
        say_later("Name of this phone"),
        most=staff_phones.LONGEST_LABEL,
        needed=say_later("Type a name for the phone, like bench."),
    )


@bp.route("/sign-in", methods=["GET", "POST"])
@allow("anyone")
def sign_in() -> Response | tuple[str, int]:
    """Initials and passphrase; then on to where the person was going."""
    form = SignInForm()
    if not form.validate_on_submit():
        return _sign_in_page(form, 422 if form.is_submitted() else 200)
    initials = form.initials.data or ""
    comes_from = replace(device(), known=known_device.known_as(initials))
    try:
        token = staff_sign_in.sign_in(
            store(), g.now, initials, form.passphrase.data or "", comes_from, _before()
        )
    except TooManyTries as error:
        return _wait(form, error)
    except NotAllowed as error:
        form.passphrase.errors = [error.sentence]
        return _sign_in_page(form, 422)
    answer = _in(token)
    known_device.remember(answer, initials)
    return answer


@bp.post("/open")
@allow("anyone")
def open_phone() -> Response | tuple[str, int]:
    """Initials and PIN, on a phone of the shop; the phone is open for a shift."""
    form = OpenForm()
    typed = form.who.data or ""
    staff_id = int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0
    try:
        token = staff_sign_in.open_phone(
            store(), g.now, staff_id, form.pin.data or "", device(), _before()
        )
    except TooManyTries as error:
        return _wait(form, error)
    except NotAllowed as error:
        form.pin.errors = [error.sentence]
        return _sign_in_page(form, 422)
    return _in(token)


@bp.post("/sign-out")
@allow(*STAFF)
def sign_out() -> Response:
    """Ends the session on the server; the cookie opens nothing any more."""
    staff_sign_in.end_session(store(), act(), g.signed_in.session_id)
    session.clear()
    g.signed_out = True
    return redirect(url_for("owner.sign_in"), 303)


@bp.post("/prove")
@allow(*STAFF)
@with_pin()
def prove() -> Response:
    """The PIN was right, or it would not come here; back to the page that asked for it."""
    return redirect(own_address(request.form.get("next", "")) or url_for("counter.today"), 303)


@bp.route("/phone/<code>", methods=["GET", "POST"])
@allow("anyone")
def enrol(code: str) -> Response | tuple[str, int]:
    """What the scanned code opens: one button makes this phone one of the shop's."""
    form = EnrolForm()
    staff_phones.waiting(store(), code, g.now)
    if not form.validate_on_submit():
        return render_template("auth/enrol.html", form=form), 422 if form.is_submitted() else 200
    secret = staff_phones.enrol(store(), act(), code, form.label.data)
    session.clear()
    answer = redirect(url_for("owner.sign_in"), 303)
    answer.set_cookie(
        phone_cookie(),
        secret,
        max_age=A_YEAR_S,
        secure=request.is_secure,
        httponly=True,
        samesite="Lax",
    )
    flash(say("This phone is added. Open it with initials and PIN."))
    return answer


def _before() -> SignedIn | None:
    """The session that a new one takes the place of."""
    before: SignedIn | None = g.signed_in
    return before


def _in(token: str) -> Response:
    """A new session under a new cookie; what the old one held is gone."""
    session.clear()
    session["token"] = token
    session.permanent = True
    kept = request.args.get("kept", "")
    if kept:
        return redirect(url_for("parked.kept", parked_id=kept), 303)
    return redirect(own_address(request.args.get("next", "")) or url_for("counter.today"), 303)


def _sign_in_page(form: FlaskForm, code: int) -> tuple[str, int]:
    """The sign-in page; on a phone of the shop both ways in."""
    by_pin = None
    if g.phone is not None:
        by_pin = form if isinstance(form, OpenForm) else OpenForm(formdata=None)
        by_pin.who.choices = {str(one.id): one.initials for one in people.here(store())}
    words = form if isinstance(form, SignInForm) else SignInForm(formdata=None)
    where = {name: request.args[name] for name in ("next", "kept") if request.args.get(name)}
    return (
        render_template(
            "auth/sign_in.html",
            form=words,
            by_pin=by_pin,
            where=where,
            is_new=staff_first_run.is_new(store()),
        ),
        code,
    )


def _wait(form: FlaskForm, error: TooManyTries) -> Response:
    """429 at the same form, with how long to wait."""
    refused(429)
    field = form.pin if isinstance(form, OpenForm) else form.passphrase
    field.errors = [error.sentence]
    answer = Response(_sign_in_page(form, 429)[0], 429, mimetype="text/html")
    answer.headers["Retry-After"] = str(error.wait_s)
    return answer


def own_address(address: str) -> str:
    """The address when it is a path of our own, else nothing: a sign-in never leads to another
    site.
    """
    clean = "".join(one for one in address if one.isprintable())
    parts = (
        urlsplit(clean.replace("\\", "/")) if clean.startswith("/") and clean == address else None
    )
    if parts is None or parts.netloc or parts.scheme or clean.replace("\\", "/").startswith("//"):
        return ""
    return quote(address, safe="/?&=%#:,+-._~")
