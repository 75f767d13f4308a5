"""New job: who, by when, three words for the boot, what we saw, what else is on the ticket."""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common import drafts
from fitcounter.desk.intake import new_job as intake_new_job
from fitcounter.desk.intake.job_records import NewJob
from fitcounter.desk.plan import kept_for_boots_at_home
from fitcounter.desk.quote import price_list
from fitcounter.desk.shop import Written
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.errors import FitCounterError
from fitcounter.web.counter.new_job_form import NewJobForm, fill_from_slot, refill
from fitcounter.web.counter.new_job_read import known_customers, read_job
from fitcounter.web.counter.today import bp
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.guards.initials_and_pin import nobody


@bp.route("/new", methods=["GET", "POST"])
@allow("counter", "owner")
def new_job() -> Response | tuple[str, int]:
    """Opens a ticket.

    The buttons beside Save look up the number, add a line for another thing, or keep it all for
    later.
    """
    form = NewJobForm()
    if not form.is_submitted():
        form.ticket.data = request.args.get("ticket", "")
        form.slot.data = request.args.get("slot", "")
        fill_from_slot(form, kept_for_boots_at_home.promised(store(), form.slot_id))
        refill(form, drafts.typed(store(), request.args.get("draft", "")))
        return _page(form, 200)
    if form.pressed:
        return _beside_save(form)
    if form.validate():
        try:
            written = _written(form, read_job(form, store(), the_shop(), g.now))
            if written.words:
                flash(written.words)
            if written.row_id is None:
                return redirect(url_for("counter.agree", ticket_id=written.ticket_id), 303)
            return redirect(url_for("counter.measure", fit_id=written.row_id), 303)
        except FitCounterError as error:
            form.take(error)
    return _page(form, 422)


def _written(form: NewJobForm, job: NewJob) -> Written:
    if form.adds_to is not None:
        return intake_new_job.add_to_ticket(
            store(), act(), the_shop(), form.adds_to, job, form.draft.data
        )
    return intake_new_job.open_ticket(store(), act(), the_shop(), job, form.draft.data)


def _beside_save(form: NewJobForm) -> Response | tuple[str, int]:
    """Looking up and one more line show the page again, nothing saved but the draft; keeping leads
    to Today.
    """
    drafts.keep(store(), act(), form.draft.data, "new-job", request.form)
    if form.pressed == "keep":
        return redirect(url_for("counter.today"), 303)
    if form.pressed == "more":
        form.things.append_entry()
    return _page(form, 200)


def _page(form: NewJobForm, code: int) -> tuple[str, int]:
    found = known_customers(form, store(), the_shop())
    begun = [one for one in drafts.begun(store(), "new-job") if one.id != form.draft.data]
    adds_to = tickets_page.look(store(), form.adds_to) if form.adds_to is not None else None
    return (
        render_template(
            "counter/new_job.html",
            form=form,
            known=found,
            drafts=begun,
            adds_to=adds_to,
            entries=price_list.entries(store()),
        ),
        code,
    )


@bp.post("/drafts/<draft_id>")
@allow("counter", "owner")
@nobody
def keep_draft(draft_id: str) -> tuple[str, int]:
    """Keeps a form as it stands while it is being typed; a small script calls it."""
    drafts.keep(store(), act(), draft_id, "new-job", request.form)
    return "", 204
