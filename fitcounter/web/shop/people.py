"""Shop: its people, and what they are known by."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import PasswordField, RadioField

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.staff import new_passphrase_or_pin, people
from fitcounter.errors import BadInput, Conflict, FitCounterError
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, both_texts
from fitcounter.web.guards.access import act, allow, store


class PersonForm(SavedForm):
    name = TextField(
        say_later("Name"), most=people.LONGEST_NAME, needed=say_later("Type the name.")
    )
    initials = TextField(
        say_later("Initials"),
        most=people.LONGEST_INITIALS,
        needed=say_later("Type the initials, like CO."),
    )
    role = RadioField(
        say_later("What they do here"),
        choices=people.role_words,
        default="counter",
        validate_choice=False,
    )


class NewPersonForm(PersonForm):
    passphrase = PasswordField(say_later("Passphrase, at least 15 characters"))
    pin = PasswordField(say_later("PIN for the shop’s phones, six digits"))


class PassphraseForm(SavedForm):
    passphrase = PasswordField(say_later("New passphrase, at least 15 characters"))


class PinForm(SavedForm):
    pin = PasswordField(say_later("New PIN, six digits"))


class ActiveForm(SavedForm):
    pass


@bp.route("/shop/people", methods=["GET", "POST"])
@allow("owner")
def staff() -> Response | tuple[str, int]:
    """Everybody who works here; a new one below."""
    form = NewPersonForm()
    if form.validate_on_submit():
        try:
            typed = (
                form.name.data,
                form.initials.data,
                form.role.data or "",
                form.passphrase.data or "",
                form.pin.data or "",
            )
            people.add_person(store(), act(), *typed)
            flash(
                say(
                    "{name} is added and can sign in now. Passphrase and PIN can be changed later.",
                    name=form.name.data,
                )
            )
            return redirect(url_for(".staff"), 303)
        except FitCounterError as error:
            form.take(error)
    return render_template(
        "shop/people.html", form=form, people=people.listed(store()), roles=people.role_words()
    ), _code(form)


@bp.route("/shop/people/<int:staff_id>", methods=["GET", "POST"])
@allow("owner")
def person(staff_id: int) -> Response | tuple[str, int]:
    """One of them: name, initials, what they do."""
    form = PersonForm()
    if form.validate_on_submit():
        try:
            typed = (form.name.data, form.initials.data, form.role.data or "")
            people.change_person(store(), act(), staff_id, form.seen_version, *typed)
            flash(say("{name} is saved.", name=form.name.data))
            return redirect(url_for(".staff"), 303)
        except Conflict as error:
            now = people.get(store(), staff_id)
            raise both_texts(
                error, form, {"name": now.name, "initials": now.initials, "role": now.role}
            ) from error
        except FitCounterError as error:
            form.take(error)
    return _person(staff_id, form if form.is_submitted() else None)


@bp.post("/shop/people/<int:staff_id>/passphrase")
@allow("owner")
def new_passphrase(staff_id: int) -> Response | tuple[str, int]:
    """A new passphrase; every session of theirs ends."""
    form = PassphraseForm()
    try:
        _not_oneself(staff_id, "passphrase")
        new_passphrase_or_pin.set_secrets(
            store(), act(), staff_id, passphrase=_typed(form.passphrase)
        )
    except FitCounterError as error:
        form.take(error)
        return _person(staff_id, passphrase=form)
    flash(say("The new passphrase is set. The old one no longer works."))
    return redirect(url_for(".person", staff_id=staff_id), 303)


@bp.post("/shop/people/<int:staff_id>/pin")
@allow("owner")
def new_pin(staff_id: int) -> Response | tuple[str, int]:
    """A new PIN."""
    form = PinForm()
    try:
        _not_oneself(staff_id, "pin")
        new_passphrase_or_pin.set_secrets(store(), act(), staff_id, pin=_typed(form.pin))
    except FitCounterError as error:
        form.take(error)
        return _person(staff_id, pin=form)
    flash(say("The new PIN is set. The old one no longer works."))
    return redirect(url_for(".person", staff_id=staff_id), 303)


@bp.post("/shop/people/<int:staff_id>/<any(leave, return):how>")
@allow("owner")
def leave(staff_id: int, how: str) -> Response | tuple[str, int]:
    """They leave, and are signed out everywhere; or come back."""
    form = ActiveForm()
    try:
        people.set_active(store(), act(), staff_id, how == "return")
        name = people.get(store(), staff_id).name
        flash(
            say("{name} can sign in again.", name=name)
            if how == "return"
            else say("{name} left the shop and is signed out everywhere.", name=name)
        )
    except FitCounterError as error:
        form.take(error)
        return _person(staff_id, active=form)
    return redirect(url_for(".staff"), 303)


def _person(staff_id: int, form: PersonForm | None = None, **sent: SavedForm) -> tuple[str, int]:
    """The page of one person, with the form that was sent back in its place."""
    shown = people.get(store(), staff_id)
    if form is None:
        held = {
            "name": shown.name,
            "initials": shown.initials,
            "role": shown.role,
            "version": shown.version,
        }
        form = PersonForm(formdata=None, data=held)
    kinds = {"passphrase": PassphraseForm, "pin": PinForm, "active": ActiveForm}
    others = {name: sent.get(name) or kind(formdata=None) for name, kind in kinds.items()}
    wrong = any(one.errors for one in (form, *others.values()))
    return render_template("shop/person.html", shown=shown, form=form, **others), (
        422 if wrong else 200
    )


def _not_oneself(staff_id: int, field: str) -> None:
    """One's own are changed where the passphrase held now is asked for (OWASP ASVS 5.0 6.2.3).

    Raises BadInput.
    """
    if staff_id == g.signed_in.person.id:
        raise BadInput(
            say("Change your own passphrase and PIN under Shop, My passphrase and PIN."),
            field=field,
        )


def _typed(field: PasswordField) -> str:
    """Raises BadInput for nothing."""
    if not field.data:
        raise BadInput(say("Empty. Type the new one here."), field=field.name)
    return str(field.data)


def _code(form: SavedForm) -> int:
    return 422 if form.is_submitted() else 200
