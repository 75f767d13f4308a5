"""Shop: where its off-site copy goes, set up and tried out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from flask import current_app, flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response
from wtforms import PasswordField

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.data import off_site_settings as data_off_site
from fitcounter.desk.data import off_site_setup
from fitcounter.desk.data.off_site_settings import FOLDER, S3, SFTP, OffSite
from fitcounter.desk.health import off_site as off_site_health
from fitcounter.errors import BadInput, Conflict, NotAllowed, NotFound
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import act, allow, store
from fitcounter.web.responses import how_far

LONGEST = 250


class FolderForm(SavedForm):
    folder = TextField(say_later("Folder on another disk"), most=LONGEST)


class StoreForm(SavedForm):
    host = TextField(say_later("Address of the store"), most=LONGEST)
    bucket = TextField(say_later("Bucket"), most=LONGEST)
    region = TextField(say_later("Region"), most=LONGEST)
    folder = TextField(say_later("Folder in it"), most=LONGEST)
    key = PasswordField(say_later("Access key"))
    secret = PasswordField(say_later("Secret key"))


class ComputerForm(SavedForm):
    host = TextField(say_later("Name of the computer"), most=LONGEST)
    port = TextField(say_later("Port"), most=5)
    user = TextField(say_later("User there"), most=LONGEST)
    folder = TextField(say_later("Folder there"), most=LONGEST)


FORMS = {FOLDER: FolderForm, S3: StoreForm, SFTP: ComputerForm}


@bp.get("/shop/off-site")
@allow("owner")
def off_site() -> str:
    """How the off-site copy stands, and where it goes."""
    return _page({})


@bp.post("/shop/off-site/<any(folder, s3, sftp):kind>")
@allow("owner")
def set_up_off_site(kind: str) -> ResponseReturnValue:
    """It is tried out and kept, or says what did not work."""
    form = FORMS[kind]()
    if not form.validate_on_submit():
        return _page({kind: form}), 422
    by, data_dir = act(), _data_dir()
    typed = {name: request.form.get(name, "") for name in form.data}

    def then(tried: Callable[[], OffSite]) -> ResponseReturnValue:
        try:
            flash(say("Tried out and kept: {where}.", where=tried().where))
            return redirect(url_for(".off_site"), 303)
        except (BadInput, Conflict, NotAllowed, NotFound) as error:
            form.take(BadInput(error.sentence, field=error.field))
            return _page({kind: form}), 422

    return how_far.answered(
        lambda held: off_site_setup.set_up(held, by, data_dir, kind, typed), then
    )


@bp.post("/shop/off-site/none")
@allow("owner")
def give_up_off_site() -> Response:
    """No off-site copy from now on."""
    off_site_setup.give_up(store(), act(), _data_dir())
    flash(say("No off-site copy from now on. What lies there stays until you delete it."))
    return redirect(url_for(".off_site"), 303)


def _page(typed: dict[str, SavedForm]) -> str:
    held = data_off_site.read(_data_dir())
    forms = {
        kind: typed.get(kind) or form(formdata=None, data=off_site_setup.shown(held, kind))
        for kind, form in FORMS.items()
    }
    return render_template(
        "shop/off_site.html",
        forms=forms,
        held=held,
        wrong=next(iter(typed), ""),
        stands=off_site_health.look(_data_dir(), g.now, elsewhere=True),
        line=off_site_setup.shop_line(_data_dir()),
        fingerprint=off_site_setup.others_key(_data_dir(), held),
    )


def _data_dir() -> Path:
    return Path(current_app.config["SETTINGS"].data_dir)
