"""Shop: its own page, its phones, and who is signed in now."""

from __future__ import annotations

from flask import current_app, flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.desk.staff import sign_in as staff_sign_in
from fitcounter.desk.staff import signed_out_forms as staff_signed_out_forms
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import act, allow, store


@bp.get("/shop")
@allow("owner")
def shop() -> str:
    """Where everything of the shop itself is kept."""
    return render_template("shop/shop.html", kept=staff_signed_out_forms.everything(store(), g.now))


@bp.get("/shop/phones")
@allow("owner")
def phones() -> str:
    """The shop's phones, and every session that lives."""
    return render_template(
        "shop/phones.html",
        phones=staff_phones.listed(store()),
        sessions=staff_phones.open_now(store(), g.now),
    )


@bp.post("/shop/phones")
@allow("owner")
def new_phone() -> str:
    """A code to be scanned with the phone that is to be taken in.

    It stands on this page only, for ten minutes.
    """
    address = current_app.config["SETTINGS"].base_url + url_for(
        ".enrol", code=staff_phones.new_code(store(), act())
    )
    return render_template(
        "auth/phone_code.html", address=address, square=staff_phones.qr_code(address)
    )


@bp.post("/shop/phones/<int:phone_id>/retire")
@allow("owner")
def retire_phone(phone_id: int) -> Response:
    """A lost phone opens nothing any more."""
    staff_sign_in.retire_phone(store(), act(), phone_id)
    flash(say("The phone is removed. It can no longer open the shop."))
    return redirect(url_for(".phones"), 303)


@bp.post("/shop/sessions/<int:session_id>/end")
@allow("owner")
def end_session(session_id: int) -> Response:
    """Signs somebody out from afar."""
    staff_sign_in.end_session(store(), act(), session_id)
    flash(say("That device is signed out."))
    return redirect(url_for(".phones"), 303)
