"""The forms of the bench's steps. Lengths go to the desk as they were typed."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from flask import g
from wtforms import HiddenField, RadioField, SelectField

from fitcounter.desk.bench.findings import WORDS
from fitcounter.desk.bench.other_steps import WAITS_FOR
from fitcounter.desk.bench.round_checks import REASONS
from fitcounter.desk.bench.round_rows import CAME_OUT
from fitcounter.desk.bench.round_steps import METHODS, PREPARED
from fitcounter.desk.bench.trees import COUNTS, LONGEST_LABEL, SIZES
from fitcounter.desk.bench.trees import SIDES as TREE_SIDES
from fitcounter.desk.common.item_steps import StepInput
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

    def said(self, **detail: Any) -> StepInput:
        """What is said with the step. Raises BadInput."""
        return StepInput(self.at(), bool(self.catch_up.data), self.seen_version, detail)


class PrepareForm(StepForm):
    prepared = RadioField(
        "How", choices=dict(PREPARED), default="conditioned", validate_choice=False
    )
    prepared_with = TextField("With what", most=60)


class PutOnForm(StepForm):
    """read_as: the girth as planned, typed, or not read yet.

    What is typed goes before what is picked.
    """

    tree = TextField("Tree", most=20, needed="Scan the tree, or pick it from the list.")
    setting = TextField("Setting on the tree", most=12)
    read_as = RadioField("On the tree the tape reads", choices=[], validate_choice=False)
    on_tree = TextField("Another girth", most=24)
    planned = HiddenField()
    before = TextField("Before, at the mark", most=24)
    method = SelectField(
        "Read how", choices=dict(METHODS), default="outside", validate_choice=False
    )
    mark = TextField("Height of the mark", most=24)
    pads = TextField("Pads", most=40)
    prepared = SelectField(
        "Prepared", choices={"": "As saved", **dict(PREPARED)}, default="", validate_choice=False
    )
    override_why = RadioField("Why go on", choices=dict(REASONS), validate_choice=False)
    take_tree = HiddenField()


class TurnUpForm(StepForm):
    girth = TextField("On the tree the tape reads", most=24)
    setting = TextField("Setting on the tree", most=12)
    override_why = RadioField("Why go on", choices=dict(REASONS), validate_choice=False)


class TakeOffForm(StepForm):
    came_out = RadioField("How it came out", choices=dict(CAME_OUT), validate_choice=False)


class MeasureForm(StepForm):
    """off, off_time: when it came off, where that was never saved.

    tape_right: below the one before, or over that on the tree.
    """

    rested = TextField(
        "Rested, at the mark", most=24, needed="Type what the tape reads at the mark, rested."
    )
    method = SelectField(
        "Read how", choices={"": "As before", **dict(METHODS)}, default="", validate_choice=False
    )
    off = RadioField("It came off", choices=dict(WHEN), validate_choice=False)
    off_time = TextField("Day and time", most=20, render_kw={"type": "datetime-local"})
    tape_right = HiddenField()

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


class LeaveOnForm(StepForm):
    until = TextField("Until", most=12, render_kw={"type": "date"})
    confirmed = HiddenField()


class AwayForm(SavedForm):
    from_day = TextField("From", most=12, render_kw={"type": "date"})
    to_day = TextField("Last day", most=12, render_kw={"type": "date"})
    why = TextField("Why", most=60)
    confirmed = HiddenField()


class SlotForm(SavedForm):
    words = TextField("Whose boots", most=40, needed="Say in a word whose boots they are.")
    sides = RadioField(
        "Which",
        choices={"pair": "A pair", "left": "Left", "right": "Right"},
        default="pair",
        validate_choice=False,
    )
    first = TextField("Brought in on", most=12, render_kw={"type": "date"})
    goes = SelectField(
        "Goes to keep trees for",
        choices={str(n): str(n) for n in range(1, 7)},
        default="2",
        validate_choice=False,
    )


class HoldForm(SavedForm):
    hold_h = TextField("Hold in hours", most=4, needed="Type the hold in hours, like 72.")
    confirmed = HiddenField()


class PickupDayForm(SavedForm):
    day = TextField("Fetched on", most=12, render_kw={"type": "date"})


class TreeForm(SavedForm):
    label = TextField(
        "Label", most=LONGEST_LABEL, needed="Type what is written on the tree, like 4 or K2."
    )
    side = RadioField("For", choices=dict(TREE_SIDES), validate_choice=False)
    size = RadioField("Size", choices=dict(SIZES), default="", validate_choice=False)
    closed = TextField("Girth closed, where it is fullest", most=24)
    open = TextField("Girth wide open, there", most=24)
    counts = SelectField(
        "It counts its setting in", choices=dict(COUNTS), default="turns", validate_choice=False
    )
    closed_setting = TextField("Setting when closed", most=8)
    open_setting = TextField("Setting when wide open", most=8)
    note = TextField("Note", most=120)


class MeasureTreeForm(SavedForm):
    setting = TextField(
        "Setting", most=8, needed="Type the setting as a figure, like 6 or 6.5; 0 is closed."
    )
    height = TextField("Height above the heel", most=24, needed="Type the height, such as 12.")
    girth = TextField(
        "The tape round it reads", most=24, needed="Type what the tape reads, such as 14 1/2."
    )
    pads = TextField("Pads on it", most=40)


class TreeStateForm(SavedForm):
    state = HiddenField()
    confirmed = HiddenField()


class OffForm(SavedForm):
    """taken: ids of the boots taken off before, so that the list stays on the page."""

    scan = TextField(
        "Scan or type the boot", most=120, needed="Scan a tag, or type its number with L or R."
    )
    taken = HiddenField()

    def before(self) -> list[str]:
        """At most fifty ids, as they came."""
        return [
            one
            for one in str(self.taken.data or "").split(",")
            if one.isascii() and one.isdigit() and len(one) < 12
        ][:50]


def now() -> datetime:
    at: datetime = g.now
    return at
