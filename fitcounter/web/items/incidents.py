"""Something went wrong: the record of it, and what is done about it."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField

from fitcounter.desk.bench import damage_seen_at_bench, incident_page, incidents
from fitcounter.desk.bench.incident_page import IncidentPage
from fitcounter.desk.bench.incidents import IncidentInput
from fitcounter.desk.common.seen_at_intake import what_happened
from fitcounter.desk.common.translation import say, say_later
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.forms.fields import LongText
from fitcounter.web.forms.saved_form import SavedForm, both_texts, clean
from fitcounter.web.guards.access import STAFF, act, allow, store
from fitcounter.web.items.item import bp


class IncidentForm(SavedForm):
    told = BooleanField(say_later("The customer was told"))
    agreed = LongText(say_later("What was agreed"), most=500)
    settled = BooleanField(say_later("This problem is settled"))


@bp.route("/incidents/<int:incident_id>", methods=["GET", "POST"])
@allow(*STAFF)
def incident(incident_id: int) -> Response | tuple[str, int]:
    """What happened, then and now, what was signed; told, agreed, settled."""
    form = IncidentForm()
    seen = incident_page.incident_page(store(), incident_id)
    code = 422 if form.is_submitted() else 200
    if form.validate_on_submit():
        try:
            flash(_saved(form, incident_id))
            return redirect(url_for("items.item", item_id=seen.row.id), 303)
        except Conflict as error:
            raise both_texts(
                error, form, _stored(incident_page.incident_page(store(), incident_id))
            ) from error
        except FitCounterError as error:
            form.take(error)
    if not form.is_submitted():
        form = IncidentForm(data={**_stored(seen), "version": str(seen.incident.version)})
    was = _was() or incidents.as_typed(seen.incident)
    words = {
        "say_finding": damage_seen_at_bench.say,
        "was": was,
        "what": what_happened(seen.incident.what),
    }
    return render_template("items/incident.html", seen=seen, form=form, **words), code


def _was() -> dict[str, str] | None:
    """What stood on the page, where the form says so."""
    was = {name: request.form.get(f"was_{name}") for name in ("told", "agreed", "settled")}
    known = {name: clean(text) for name, text in was.items() if text is not None}
    return known if len(known) == len(was) else None


def _saved(form: IncidentForm, incident_id: int) -> str:
    """What is true after it was saved. Raises Conflict."""
    typed = IncidentInput(
        told=bool(form.told.data),
        agreed=form.agreed.data or "",
        settled=bool(form.settled.data),
        version=form.seen_version,
        was=_was(),
    )
    incidents.settle(store(), act(), incident_id, typed)
    if incident_page.incident_page(store(), incident_id).incident.settled_at:
        return say("Saved. The problem is settled: the work can go on.")
    return say("Saved. The problem is not settled yet.")


def _stored(seen: IncidentPage) -> dict[str, object]:
    """The record as the form would show it."""
    held = seen.incident
    return {
        "told": held.told_at is not None,
        "agreed": held.agreed,
        "settled": held.settled_at is not None,
    }
