"""Shop: the mail account that e-mails to customers go out by."""

from __future__ import annotations

from pathlib import Path

from flask import current_app, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import PasswordField, RadioField, SelectMultipleField

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.health import mail as mail_health
from fitcounter.desk.messages import mail_account, mail_wanted
from fitcounter.desk.messages.mail_account import TypedAccount
from fitcounter.errors import FitCounterError, Unavailable
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, said
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.pages import link_address


class MailForm(SavedForm):
    """passphrase: the account's password, named so that it is never shown or kept as a form."""

    host = TextField(say_later("Mail server"), most=200)
    port = TextField(say_later("Port"), most=5, default="465")
    security = RadioField(
        say_later("Security"),
        choices=said(mail_account.SECURITY),
        default="tls",
        validate_choice=False,
    )
    user = TextField(say_later("User name"), most=200)
    passphrase = PasswordField(say_later("Password"))
    sender = TextField(say_later("E-mails come from"), most=254)
    kinds = SelectMultipleField(
        say_later("Send by itself"), choices=said(mail_account.KINDS), validate_choice=False
    )


class TestForm(SavedForm):
    to = TextField(say_later("Send a test to"), most=254)


@bp.route("/shop/mail", methods=["GET", "POST"])
@allow("owner")
def mail() -> Response | tuple[str, int]:
    """The account, what goes out by it, and how it goes."""
    form = MailForm()
    if form.is_submitted() and form.validate():
        try:
            mail_account.keep(store(), act(), _typed(form), _data_dir())
            flash(say("Mail account saved. Send yourself a test."))
            return redirect(url_for(".mail"), 303)
        except Unavailable:
            raise
        except FitCounterError as error:
            form.take(error)
    elif not form.is_submitted():
        _fill(form)
    return _page(form, TestForm(formdata=None)), 422 if form.errors else 200


@bp.post("/shop/mail/try")
@allow("owner")
def mail_test() -> Response | tuple[str, int]:
    """One e-mail to whoever asks, now; what is wrong with the account is said at once."""
    form = TestForm()
    try:
        flash(mail_wanted.send_test(store(), act(), the_shop(), form.to.data or "", _data_dir()))
        return redirect(url_for(".mail"), 303)
    except FitCounterError as error:
        form.to.errors = [error.sentence]
    account = MailForm(formdata=None)
    _fill(account)
    return _page(account, form), 422


def _page(form: MailForm, test: TestForm) -> str:
    return render_template(
        "shop/mail.html",
        form=form,
        test=test,
        kinds=mail_account.KINDS,
        account=mail_account.of_shop(store()),
        line=mail_health.look(store(), _data_dir()),
        unreachable=link_address.own_address(),
    )


def _fill(form: MailForm) -> None:
    """The account as it stands; never its password."""
    account = mail_account.of_shop(store())
    if account is None:
        return
    form.host.data, form.port.data = account.host, str(account.port)
    form.security.data, form.user.data = account.security, account.user
    form.sender.data, form.kinds.data = account.sender, list(account.kinds)


def _typed(form: MailForm) -> TypedAccount:
    return TypedAccount(
        host=form.host.data or "",
        port=form.port.data or "",
        security=form.security.data or "",
        user=form.user.data or "",
        sender=form.sender.data or "",
        password=form.passphrase.data or "",
        kinds=tuple(form.kinds.data or ()),
    )


def _data_dir() -> Path:
    return Path(current_app.config["SETTINGS"].data_dir)
