"""Signing in and out: the door of the Shop place."""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Blueprint, g, redirect, render_template, request, session, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import PasswordField

from fitcounter.desk import people
from fitcounter.errors import NotAllowed
from fitcounter.web.access import STAFF, act, allow, store
from fitcounter.web.forms import TextField

bp = Blueprint("owner", __name__)


class SignInForm(FlaskForm):
    initials = TextField("Your initials", most=8, needed="Type your initials, as the owner set them up.")
    passphrase = PasswordField("Your passphrase")


@bp.route("/sign-in", methods=["GET", "POST"])
@allow("anyone")
def sign_in() -> Response | str | tuple[str, int]:
    """Initials and passphrase; then on to where the person was going."""
    form = SignInForm()
    if not form.validate_on_submit():
        return render_template("owner/sign_in.html", form=form), 422 if form.is_submitted() else 200
    try:
        token = people.sign_in(store(), g.now, form.initials.data, form.passphrase.data or "")
    except NotAllowed as error:
        form.passphrase.errors = [error.sentence]
        return render_template("owner/sign_in.html", form=form), 422
    session.clear()
    session["token"] = token
    session.permanent = True
    return redirect(_own_address(request.args.get("next", "")) or url_for("counter.today"), 303)


@bp.post("/sign-out")
@allow(*STAFF)
def sign_out() -> Response:
    """Ends the session on the server; the cookie opens nothing any more."""
    people.sign_out(store(), act(), g.signed_in.session_id)
    session.clear()
    g.signed_out = True
    return redirect(url_for("owner.sign_in"), 303)


def _own_address(address: str) -> str:
    """The address when it is a path of our own, else nothing: a sign-in never leads to another site."""
    parts = urlsplit(address.replace("\\", "/"))
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) and not parts.netloc and not parts.scheme else ""
