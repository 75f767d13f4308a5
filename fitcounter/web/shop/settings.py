"""Shop: its settings, each with what it changes."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk import shop
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import say
from fitcounter.desk.settings import setting_groups, setting_table, settings_page
from fitcounter.errors import BadFields, Conflict
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, clean
from fitcounter.web.guards.access import act, allow, store, the_shop


class ChoicesForm(SavedForm):
    """Its fields are those of desk.settings; what was typed stands in them again when one cannot be
    taken.
    """


@bp.route("/shop/choices", methods=["GET", "POST"])
@allow("owner")
def shop_choices() -> Response | tuple[str, int]:
    """Every setting with what it changes, and why it is as it is at first."""
    form = ChoicesForm()
    stored = settings_page.shown(the_shop())
    typed = {**stored, **{key: _typed(key) for key in stored if key in request.form}}
    wrong: dict[str, str] = {}
    if form.validate_on_submit():
        try:
            sure_of = request.form.get("sure_of", "")
            kept = settings_page.keep(store(), act(), the_shop(), typed, form.seen_version, sure_of)
            flash(say("Settings saved.") if kept else say("Nothing was changed."))
            return redirect(url_for(".shop_choices"), 303)
        except BadFields as error:
            wrong = dict(error.sentences)
        except Conflict as error:
            raise Conflict(error.sentence, theirs=_stored_now(typed)) from error
    elif not form.is_submitted():
        form.version.data = str(settings_page.stamp(store()))
    page = render_template(
        "shop/settings.html", form=form, typed=typed, wrong=wrong, **_known(typed)
    )
    return page, 422 if wrong or form.errors else 200


def _known(typed: dict[str, str]) -> dict[str, object]:
    """What the page shows beside what was typed."""
    return {
        "hours_typed": _hours_of_days(typed["day_hours"]),
        "choices": setting_table.CHOICES,
        "usual": settings_page.usual(),
        "groups": [(say(title), keys) for title, keys in setting_groups.GROUPS],
        "options": setting_groups.options(the_shop()),
        "week": setting_groups.week(),
        "closings": shop_days.closings_ahead(store(), the_shop().today(g.now)),
    }


def _typed(key: str) -> str:
    """What came in a field; of tick boxes all that are ticked, with commas between; of days the
    hours of each that has its own.
    """
    if key == "day_hours" and any(name.startswith("day_hours-") for name in request.form):
        own = ((day, _hours(day)) for day in setting_groups.WEEK)
        return clean(", ".join(f"{day} {hours}" for day, hours in own if hours))
    return clean(", ".join(value for value in request.form.getlist(key) if value))


def _hours(day: str) -> str:
    """ "09:00-13:00", half of it where one was left empty, "" where both were."""
    ends = _ends(day)
    return "-".join(ends) if any(ends) else ""


def _ends(day: str) -> list[str]:
    """Both fields of a day as they were typed."""
    return [request.form.get(f"day_hours-{day}-{end}", "").strip() for end in ("from", "to")]


def _hours_of_days(stored: str) -> dict[str, list[str]]:
    """What stands in both fields of each day: as typed, whatever it is, else as stored."""
    if any(name.startswith("day_hours-") for name in request.form):
        return {day: _ends(day) for day in setting_groups.WEEK}
    hours = dict(part.split(" ", 1) for part in stored.split(", ") if " " in part)
    return {day: [*hours.get(day, "").split("-"), ""][:2] for day in setting_groups.WEEK}


def _stored_now(typed: dict[str, str]) -> dict[str, str]:
    """What is stored now, by label, where it differs from what was typed."""
    stands = shop.read(store())
    now, names = settings_page.shown(stands), setting_groups.options(stands)
    return {
        setting_table.CHOICES[key].label: names.get(key, {}).get(now[key], now[key])
        or say("nothing")
        for key in now
        if now[key] != typed[key]
    }
