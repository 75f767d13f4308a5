"""One's own passphrase, PIN and sessions."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import PasswordField

from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.common.translation import say, say_later, speaking, speech_at
from fitcounter.desk.staff import new_passphrase_or_pin, people
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.desk.staff import sign_in as staff_sign_in
from fitcounter.desk.staff import signed_out_forms as staff_signed_out_forms
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.errors import BadInput, FitCounterError, NotFound, TooManyTries
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import with_pin


class OwnForm(SavedForm):
    """now: the passphrase held now. What is left empty stays."""

    now = PasswordField(say_later("Your passphrase now"))
    passphrase = PasswordField(say_later("New passphrase, at least 15 characters"))
    again = PasswordField(say_later("The new passphrase again"))
    pin = PasswordField(say_later("New PIN, six digits"))


@bp.route("/me", methods=["GET", "POST"])
@allow(*STAFF)
def me() -> Response | tuple[str, int]:
    """Another passphrase ends all other sessions; another PIN holds at once."""
    form = OwnForm()
    if form.validate_on_submit():
        try:
            _change(form)
            flash(say("Saved. Use the new one from now on."))
            return redirect(url_for(".me"), 303)
        except TooManyTries:
            raise
        except FitCounterError as error:
            form.take(error)
    sessions = staff_phones.open_now(store(), g.now, g.signed_in.person.id)
    kept = staff_signed_out_forms.everything(store(), g.now, g.signed_in.person.id)
    shops = say("As the shop: {language}", language=languages()[speech_at(the_shop()).code])
    known = {"sessions": sessions, "kept": kept, "languages": {"": shops, **languages()}}
    text = render_template("auth/me.html", form=form, **known)
    return text, 422 if form.is_submitted() else 200


@bp.post("/me/language")
@allow(*STAFF)
def my_language() -> Response:
    """The language of one's own pages."""
    people.set_language(store(), act(), g.signed_in.person.id, request.form.get("language", ""))
    flash(_in_words())
    return redirect(url_for(".me"), 303)


def _in_words() -> str:
    """What is true from now on, in the language that was just chosen."""
    person = people.get(store(), g.signed_in.person.id)
    with speaking(speech_at(the_shop(), person.language)) as chosen:
        return say("Your pages are in {language} now.", language=languages()[chosen.code])


@bp.post("/me/sessions/<int:session_id>/end")
@allow(*STAFF)
@with_pin()
def end_mine(session_id: int) -> Response:
    """Signs oneself out somewhere else."""
    if session_id not in {
        one.session.id for one in staff_phones.open_now(store(), g.now, g.signed_in.person.id)
    }:
        raise NotFound(say("That device is not signed in any more."))
    staff_sign_in.end_session(store(), act(), session_id)
    return redirect(url_for(".me"), 303)


def _change(form: OwnForm) -> None:
    """Raises BadInput at the field; TooManyTries."""
    staff_id = g.signed_in.person.id
    staff_throttle.spend(store(), f"own:{staff_id}", staff_throttle.PASSPHRASE, g.now)
    if not new_passphrase_or_pin.is_passphrase(store(), staff_id, form.now.data or ""):
        raise BadInput(say("Wrong passphrase. Type the one you sign in with."), field="now")
    staff_throttle.forget(store(), f"own:{staff_id}")
    if not (form.passphrase.data or form.pin.data):
        raise BadInput(say("Type a new passphrase, a new PIN, or both."), field="passphrase")
    if form.passphrase.data and form.passphrase.data != form.again.data:
        raise BadInput(say("The two passphrases differ. Type the new one twice."), field="again")
    new_passphrase_or_pin.set_secrets(
        store(),
        act(),
        staff_id,
        form.passphrase.data or "",
        form.pin.data or "",
        g.signed_in.session_id,
    )
