"""The forms of the bench's steps. Lengths go to the desk as they were typed."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from flask import g
from wtforms import HiddenField, RadioField, SelectField

from fitcounter.desk.bench_ends import WAITS_FOR
from fitcounter.desk.bench_findings import WORDS
from fitcounter.desk.bench_steps import CAME_OUT, METHODS, PREPARED
from fitcounter.desk.round_checks import REASONS
from fitcounter.desk.stepping import Said
from fitcounter.web.access import the_shop
from fitcounter.web.forms import WHEN, SavedForm, TextField, happened_at


class StepForm(SavedForm):
    """A step with the time it happened. catch_up: steps before it were never saved."""

    happened = RadioField("When", choices=dict(WHEN), default="now", validate_choice=False)
    happened_time = TextField("Day and time", most=20, render_kw={"type": "datetime-local"})
    catch_up = HiddenField()

    def at(self) -> datetime:
        """When it happened. Raises BadInput."""
        return happened_at(self.happened.data or "", self.happened_time.data, the_shop().zone)

    def said(self, **detail: Any) -> Said:
        """What is said with the step. Raises BadInput."""
        return Said(self.at(), bool(self.catch_up.data), self.seen_version, detail)


class PrepareForm(StepForm):
    prepared = RadioField("How", choices=dict(PREPARED), default="conditioned", validate_choice=False)
    prepared_with = TextField("With what", most=60)


class PutOnForm(StepForm):
    """read_as: the girth as planned, typed, or not read yet. What is typed goes before what is picked."""

    tree = TextField("Tree", most=20, needed="Scan the tree, or pick it from the list.")
    setting = TextField("Setting on the tree", most=12)
    read_as = RadioField("On the tree the tape reads", choices=[], validate_choice=False)
    on_tree = TextField("Another girth", most=24)
    planned = HiddenField()
    before = TextField("Before, at the mark", most=24)
    method = SelectField("Read how", choices=dict(METHODS), default="outside", validate_choice=False)
    mark = TextField("Height of the mark", most=24)
    pads = TextField("Pads", most=40)
    prepared = SelectField("Prepared", choices={"": "As saved", **dict(PREPARED)}, default="", validate_choice=False)
    override_why = RadioField("Why go on", choices=dict(REASONS), validate_choice=False)
    take_tree = HiddenField()


class TurnUpForm(StepForm):
    girth = TextField("On the tree the tape reads", most=24)
    setting = TextField("Setting on the tree", most=12)
    override_why = RadioField("Why go on", choices=dict(REASONS), validate_choice=False)


class TakeOffForm(StepForm):
    came_out = RadioField("How it came out", choices=dict(CAME_OUT), validate_choice=False)


class MeasureForm(StepForm):
    """off, off_time: when it came off, where that was never saved."""

    rested = TextField("Rested, at the mark", most=24, needed="Type what the tape reads at the mark, rested.")
    method = SelectField("Read how", choices={"": "As before", **dict(METHODS)}, default="", validate_choice=False)
    off = RadioField("It came off", choices=dict(WHEN), validate_choice=False)
    off_time = TextField("Day and time", most=20, render_kw={"type": "datetime-local"})

    def off_at(self) -> datetime | None:
        """Raises BadInput."""
        if not self.off.data:
            return None
        return happened_at(self.off.data, self.off_time.data, the_shop().zone)


class PlainForm(StepForm):
    """A step with nothing to say but when."""


class FinishForm(StepForm):
    shaper = TextField("On which shaper", most=20)


class ShelveForm(StepForm):
    shelf = TextField("Shelf", most=12, needed="Say which shelf it stands on.")
    shaper = TextField("On which shaper", most=20)


class WorkDoneForm(StepForm):
    shelf = TextField("Shelf", most=12, needed="Say which shelf it stands on.")


class WaitForm(StepForm):
    waits_for = RadioField("What for", choices=dict(WAITS_FOR), validate_choice=False)


class StopForm(StepForm):
    what = TextField("What went wrong", most=200, needed="Say in a few words what went wrong.")
    where_on = TextField("Where on it", most=60)


class FurtherForm(StepForm):
    state = RadioField("It is", choices=[], validate_choice=False)


class FindingForm(StepForm):
    word = RadioField("What", choices=dict(WORDS), validate_choice=False)
    place = TextField("Where on it", most=60)
    note = TextField("Anything else", most=200)


class UndoForm(SavedForm):
    step_id = HiddenField()


class OffForm(SavedForm):
    """taken: ids of the boots taken off before, so that the list stays on the page."""

    scan = TextField("Scan or type the boot", most=120, needed="Scan a tag, or type its number with L or R.")
    taken = HiddenField()

    def before(self) -> list[str]:
        """At most fifty ids, as they came."""
        return [one for one in str(self.taken.data or "").split(",") if one.isascii() and one.isdigit() and len(one) < 12][:50]


def now() -> datetime:
    at: datetime = g.now
    return at
