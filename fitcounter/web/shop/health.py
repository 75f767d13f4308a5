"""Health: how the shop's data stand, and what wants a hand."""

from __future__ import annotations

from pathlib import Path

from flask import current_app, flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.data import machine_clock
from fitcounter.desk.health import page as looked
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import act, allow, store


@bp.get("/shop/health")
@allow("owner")
def health() -> str:
    """How the shop's data stand, and what wants a hand."""
    settings = current_app.config["SETTINGS"]
    days_left = current_app.config["CERTIFICATE_DAYS"](g.now)
    findings = looked.look(store(), Path(settings.data_dir), g.now, days_left)
    leap = machine_clock.leap(store(), g.now)
    return render_template("shop/health.html", findings=findings, asks_clock=leap is not None)


@bp.post("/shop/health/clock")
@allow("owner")
def confirm_clock() -> Response:
    """The owner says that the machine's clock is right, after it leapt."""
    machine_clock.confirm(store(), act())
    flash(say("Saved. Data past its time is deleted tonight."))
    return redirect(url_for(".health"), 303)
