"""Already here: a job that was begun on paper, put in as it stands."""

from __future__ import annotations

from datetime import date

from flask import current_app, flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import RadioField, SelectField

from fitcounter.desk.common import money
from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.leather_presets import CLOSURES, LEATHERS, LININGS
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.intake import half_done_paper_job as paper_job
from fitcounter.desk.intake.half_done_paper_job import Already, Stands
from fitcounter.desk.intake.job_records import Boots, NewJob, Who
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.fit.item_states import WORDS
from fitcounter.web.counter.new_job_form import BOOTS
from fitcounter.web.counter.new_job_read import SIDES
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.fields import DayField
from fitcounter.web.forms.saved_form import SavedForm, TextField, said
from fitcounter.web.guards.access import act, allow, store, the_shop

PLACES: dict[str, str] = {state: WORDS[state] for state in paper_job.PLACES}


class AlreadyForm(SavedForm):
    phone = TextField(say_later("Phone number"), most=40)
    name = TextField(say_later("Name"), most=80, needed=say_later("Type the name on the slip."))
    boots = RadioField(
        say_later("Boots"),
        choices=said({key: words for key, words in BOOTS.items() if key != "none"}),
        default="pair",
    )
    material = SelectField(say_later("Leather"), choices=said(LEATHERS), default="unknown")
    closure = RadioField(say_later("Closure"), choices=said(CLOSURES), default="zip")
    lining = RadioField(say_later("Lining"), choices=said(LININGS), default="leather")
    description = TextField(say_later("Color, anything special"), most=80)
    state_left = SelectField(say_later("Left boot is"), choices=said(PLACES), default="queued")
    since_left = DayField(say_later("Left boot since"))
    tree_left = TextField(say_later("Left boot on tree"), most=20)
    shelf_left = TextField(say_later("Left boot on shelf"), most=20)
    state_right = SelectField(say_later("Right boot is"), choices=said(PLACES), default="queued")
    since_right = DayField(say_later("Right boot since"))
    tree_right = TextField(say_later("Right boot on tree"), most=20)
    shelf_right = TextField(say_later("Right boot on shelf"), most=20)
    promised = DayField(say_later("Promised day"))
    total = TextField(say_later("Price agreed"), most=14)
    paid = TextField(say_later("Paid already"), most=14)
    note = TextField(say_later("Note"), most=1000)


@bp.route("/already", methods=["GET", "POST"])
@allow("counter", "owner")
def already_here() -> Response | tuple[str, int]:
    """Opens a ticket with its boots where they stand, and makes their tags."""
    form = AlreadyForm()
    if form.is_submitted() and form.validate():
        try:
            written = paper_job.put_in(
                store(), act(), the_shop(), _read(form), current_app.config["SETTINGS"].data_dir
            )
        except FitCounterError as error:
            form.take(error)
        else:
            flash(say("The ticket is added. Print the tags and tie them on."))
            return redirect(url_for("counter.ticket", ticket_id=written.ticket_id), 303)
    return render_template(
        "counter/half_done_paper_job.html", form=form
    ), 422 if form.is_submitted() else 200


def _read(form: AlreadyForm) -> Already:
    """Raises BadInput at the first field that cannot be taken."""
    shop = the_shop()
    today = shop.today(g.now)
    sides = SIDES[form.boots.data]
    boots = Boots(
        sides, form.material.data, form.closure.data, form.lining.data, form.description.data or ""
    )
    who = Who(form.name.data, read_phone(form.phone.data or "", shop.country))
    return Already(
        NewJob(who, boots, note=form.note.data or ""),
        tuple(_stands(form, side, today) for side in sides),
        read_day(form.promised.data or "", today, "promised"),
        money.read_amount(form.total.data or "", shop.currency, "total"),
        money.read_amount(form.paid.data or "", shop.currency, "paid"),
    )


def _stands(form: AlreadyForm, side: str, today: date) -> Stands:
    since = read_day(form[f"since_{side}"].data or "", today, f"since_{side}", past_ok=True)
    if since is None:
        raise BadInput(say("Type the date since when. A guess is fine."), field=f"since_{side}")
    return Stands(
        side,
        form[f"state_{side}"].data,
        since,
        form[f"tree_{side}"].data or "",
        form[f"shelf_{side}"].data or "",
    )
