"""Shop: how far each leather may go, the owner's own figures beside the handbook's."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.settings import leather_limits as settings_leather_limits
from fitcounter.desk.settings.leather_limits import LimitSheet
from fitcounter.errors import BadFields, Conflict
from fitcounter.fit.assessment.handbook_notes import beside_the_ceiling
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, clean
from fitcounter.web.guards.access import act, allow, store, the_shop


class LimitsForm(SavedForm):
    """Its fields are those of desk.settings; what was typed stands in them again when one
    cannot be taken.
    """


@bp.get("/shop/leathers")
@allow("owner")
def leathers() -> str:
    """Every leather with its limits, and which are the shop's own."""
    return render_template(
        "shop/leather_limits.html",
        lines=settings_leather_limits.lines(store()),
        ceiling=beside_the_ceiling(the_shop().unit),
    )


@bp.route("/shop/leathers/<leather>", methods=["GET", "POST"])
@allow("owner")
def leather(leather: str) -> Response | tuple[str, int]:
    """One leather: each figure with the handbook's, its reason and what it changes."""
    form, sheet, wrong = LimitsForm(), settings_leather_limits.sheet(store(), leather), {}
    typed = {
        **sheet.stands,
        **{key: clean(request.form[key]) for key in sheet.stands if key in request.form},
    }
    if form.validate_on_submit():
        try:
            _keep(leather, typed, form.seen_version)
            return redirect(url_for(".leathers"), 303)
        except BadFields as error:
            wrong = dict(error.sentences)
    elif not form.is_submitted():
        form.version.data = str(sheet.version)
    page = render_template(
        "shop/leather_limit.html",
        form=form,
        sheet=sheet,
        typed=typed,
        wrong=wrong,
        ceiling=beside_the_ceiling(the_shop().unit),
    )
    return page, 422 if wrong or form.errors else 200


def _keep(leather: str, typed: dict[str, str], version: int | None) -> None:
    """Keeps the figures and says so; a Conflict carries what is stored by now."""
    try:
        kept = settings_leather_limits.keep(store(), act(), the_shop(), leather, typed, version)
    except Conflict as error:
        now = settings_leather_limits.sheet(store(), leather)
        raise Conflict(error.sentence, theirs=_theirs(now, typed)) from error
    flash(say("Limits saved. New estimates use them.") if kept else say("Nothing was changed."))


def _theirs(now: LimitSheet, typed: dict[str, str]) -> dict[str, str]:
    """What stands now, where it is not what was typed."""
    return {
        one.label: f"{now.stands[one.key]} {one.unit}"
        for one in now.fields
        if now.stands[one.key] != typed[one.key]
    }
