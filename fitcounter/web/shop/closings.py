"""Shop: holidays and closings in one list, and the country's public holidays to tick."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import say
from fitcounter.desk.settings import public_holidays, setting_groups
from fitcounter.errors import BadInput, Unavailable
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import act, allow, store, the_shop


class HolidaysForm(SavedForm):
    """Its fields are the days that are ticked."""


@bp.get("/shop/closings")
@allow("owner")
def closings() -> str:
    """Every closing ahead, and the public holidays of the shop's country; none is assumed."""
    return _page(HolidaysForm(formdata=None))


@bp.post("/shop/closings")
@allow("owner")
def close_holidays() -> Response | tuple[str, int]:
    """Closes the shop on the holidays that were ticked; asks first where a promised day would
    move.
    """
    form, ticked = HolidaysForm(), request.form.getlist("day")
    try:
        if not form.validate():
            return _page(form), 422
        sure = bool(request.form.get("confirmed"))
        public_holidays.close(store(), act(), the_shop(), ticked, sure)
    except BadInput as error:
        if error.field == "confirmed":
            return _question(error.sentence, ticked), 422
        form.take(error)
        return _page(form), 422
    flash(say("The shop is closed on these days."))
    return redirect(url_for(".closings"), 303)


def _question(sentence: str, ticked: list[str]) -> str:
    typed = [("day", one) for one in ticked]
    typed += [("submission_id", request.form.get("submission_id", ""))]
    return render_template(
        "bench/day_moves.html",
        sentence=sentence,
        typed=typed,
        url=url_for(".close_holidays"),
    )


def _page(form: HolidaysForm) -> str:
    shop, missing = the_shop(), ""
    today = shop.today(g.now)
    try:
        offered = public_holidays.offered(store(), shop, today)
    except Unavailable as error:
        offered, missing = [], error.sentence
    return render_template(
        "shop/closings.html",
        form=form,
        closings=shop_days.everything_ahead(store(), today),
        offered=offered,
        missing=missing,
        country=setting_groups.options(shop)["country"][shop.country],
        ticked=request.form.getlist("day"),
    )
