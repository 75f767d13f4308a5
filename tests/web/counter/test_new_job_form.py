"""The fields of New job, as days that were kept fill them in."""

from __future__ import annotations

from flask import Flask

from fitcounter.desk.plan.kept_for_boots_at_home import PromisedSlot
from fitcounter.web.counter.new_job_form import NewJobForm, fill_from_slot

SLOT = PromisedSlot(7, "Ada", "goat", "left", "2026-04-25", 1, "2026-04-20", "2026-03-18", None)


def test_days_that_were_kept_fill_in_what_was_asked_then(app: Flask):
    with app.test_request_context("/new"):
        form = NewJobForm()
        form.slot.data = "7"
        fill_from_slot(form, SLOT)
        assert (form.slot_id, form.name.data, form.material.data) == (7, "Ada", "goat")
        assert (form.boots.data, form.needed_by.data) == ("left", "2026-04-25")
        assert form.rush.data is True


def test_days_that_have_run_out_fill_in_nothing(app: Flask):
    with app.test_request_context("/new"):
        form = NewJobForm()
        form.slot.data = "7"
        fill_from_slot(form, None)
        assert (form.slot_id, form.name.data) == (None, None)
