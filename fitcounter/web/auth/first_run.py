"""The first run: the shop's name, its hours, one price, its trees, and the owner."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from flask import flash, g, redirect, render_template, request, session, url_for
from werkzeug.wrappers import Response
from wtforms import HiddenField, PasswordField, RadioField, SelectField

from fitcounter.desk.common import countries, translation
from fitcounter.desk.common.catalogues import language_codes, languages
from fitcounter.desk.common.fields import read_whole
from fitcounter.desk.common.translation import marked, say, say_later
from fitcounter.desk.settings import setting_groups
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.desk.staff import sign_in as staff_sign_in
from fitcounter.desk.staff.first_run import MOST_TREES, SIZES, FirstRun
from fitcounter.errors import FitCounterError, Unavailable
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import act, allow, device, speak_here, store, the_shop
from fitcounter.web.pages.error_pages import BUSY_S, code_of

_USUAL = marked("As usual in the country")


def _zones() -> dict[str, str]:
    return setting_groups.zones(translation.spoken().code)


def _countries() -> dict[str, str]:
    return setting_groups.countries(translation.spoken().code)


def _languages() -> dict[str, str]:
    return {"": say(_USUAL), **languages()}


def _currencies() -> dict[str, str]:
    return {"": say(_USUAL), **setting_groups.currencies(translation.spoken().code)}


def _few(key: str) -> Callable[[], dict[str, str]]:
    """The choices of a setting with few of them, what is usual in the country first."""

    def choices() -> dict[str, str]:
        named = {value: say(name) for value, name in setting_groups.FEW[key].items() if value}
        return {"": say(_USUAL), **named}

    return choices


class FirstRunForm(SavedForm):
    """setup_token: what the program printed at its start."""

    setup_token = HiddenField()
    country = SelectField(say_later("Country"), choices=_countries, validate_choice=False)
    language = SelectField(say_later("Language"), choices=_languages, validate_choice=False)
    currency = SelectField(say_later("Currency"), choices=_currencies, validate_choice=False)
    unit = SelectField(say_later("Tape"), choices=_few("unit"), validate_choice=False)
    paper = SelectField(say_later("Paper"), choices=_few("paper"), validate_choice=False)
    hours = SelectField(say_later("Hours"), choices=_few("hours"), validate_choice=False)
    shop_name = TextField(
        say_later("Name of the shop"),
        most=60,
        needed=say_later("Type the name of the shop, as customers know it."),
    )
    zone = SelectField(say_later("Time zone"), choices=_zones, validate_choice=False)
    opens_at = TextField(say_later("Opens at"), most=5, default="09:00", render_kw={"type": "time"})
    closes_at = TextField(
        say_later("Closes at"), most=5, default="18:00", render_kw={"type": "time"}
    )
    price = TextField(say_later("Price of stretching a pair"), most=12, default="90")
    trees_s = TextField(say_later("Pairs of trees, small"), most=2, default="0")
    trees_m = TextField(say_later("Pairs of trees, medium"), most=2, default="2")
    trees_l = TextField(say_later("Pairs of trees, large"), most=2, default="1")
    limits = RadioField(
        say_later("How far to stretch"),
        choices=staff_first_run.limits_words,
        default="usual",
        validate_choice=False,
    )
    name = TextField(say_later("Your name"), most=60, needed=say_later("Type your name."))
    initials = TextField(
        say_later("Your initials"), most=4, needed=say_later("Type your initials, like OW.")
    )
    passphrase = PasswordField(say_later("Your passphrase, at least 15 characters"))
    pin = PasswordField(say_later("PIN for the shop’s phones, six digits"))


@bp.route("/first-run", methods=["GET", "POST"])
@allow("anyone")
def first_run() -> Response:
    """Sets the shop up once and signs its owner in."""
    speak_here(request.accept_languages.best_match(language_codes(), ""))
    form = FirstRunForm()
    if not form.is_submitted():
        form.setup_token.data = request.args.get("setup_token", "")
        form.country.data = _here()
        form.zone.data = countries.zone(_here()) or the_shop().zone
    staff_first_run.check_setup_token(store(), form.setup_token.data or "", g.now)
    if form.validate_on_submit():
        try:
            staff_first_run.set_up(store(), act(), form.setup_token.data or "", _answers(form))
        except Unavailable as error:  # on its own page again: the setup_token travels on no other
            form.form_errors = [*form.form_errors, error.sentence]
            return _page(form, code_of(error))
        except FitCounterError as error:
            form.take(error)
        else:
            return _in(form)
    return _page(form, 422 if form.is_submitted() else 200)


def _page(form: FirstRunForm, code: int) -> Response:
    answer = Response(render_template("auth/first_run.html", form=form), code, mimetype="text/html")
    if code == 503:
        answer.headers["Retry-After"] = str(BUSY_S)
    return answer


def _in(form: FirstRunForm) -> Response:
    """The owner is signed in; where that cannot be written now, the shop is set up all the same,
    and they sign in by hand.
    """
    session.clear()
    with suppress(Unavailable):
        session["token"] = staff_sign_in.sign_in(
            store(), g.now, form.initials.data, form.passphrase.data or "", device()
        )
        session.permanent = True
        flash(say("The shop is set up. Next: add your people, your phones and your paper jobs."))
    return redirect(url_for("owner.shop"), 303)


def _here() -> str:
    """The country that this browser's languages name first."""
    return countries.preferred(list(request.accept_languages.values()))


def _answers(form: FirstRunForm) -> FirstRun:
    """Raises BadInput."""
    typed = {size: f"trees_{size.lower()}" for size in SIZES}
    trees = {
        size: read_whole(form[name].data or "0", 0, MOST_TREES, name, say("the pairs"))
        for size, name in typed.items()
    }
    return FirstRun(
        country=form.country.data or _here(),
        language=form.language.data or "",
        currency=form.currency.data or "",
        unit=form.unit.data or "",
        paper=form.paper.data or "",
        hours=form.hours.data or "",
        shop_name=form.shop_name.data,
        zone=form.zone.data or "",
        opens_at=form.opens_at.data,
        closes_at=form.closes_at.data,
        price=form.price.data or "",
        trees=trees,
        limits=form.limits.data or "",
        name=form.name.data,
        initials=form.initials.data,
        passphrase=form.passphrase.data or "",
        pin=form.pin.data or "",
    )
