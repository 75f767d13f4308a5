"""The forms of the bench's steps. Lengths go to the desk as they were typed."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from wtforms import HiddenField, RadioField, SelectField

from fitcounter.desk.bench.damage_seen_at_bench import OTHER_WORDS
from fitcounter.desk.bench.put_on_turn_up_take_off import METHODS, PREPARED
from fitcounter.desk.bench.wait_and_go_on import WAITS_FOR
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.rounds.checks_before_a_round import REASONS
from fitcounter.desk.rounds.round_rows import CAME_OUT, EARLY
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.forms.when_it_happened import WHEN, happened_at
from fitcounter.web.guards.access import the_shop


class StepForm(SavedForm):
    """A step with the time it happened. catch_up: steps before it were never saved."""

    happened = RadioField(
        say_later("When"), choices=dict(WHEN), default="now", validate_choice=False
    )
    happened_time = TextField(
        say_later("Day and time"), most=20, render_kw={"type": "datetime-local"}
    )
    catch_up = HiddenField()

    def at(self) -> datetime:
        """When it happened. Raises BadInput."""
        return happened_at(self.happened.data or "", self.happened_time.data, the_shop().zone)

    def said(self, **detail: Any) -> StepInput:
        """What is said with the step. Raises BadInput."""
        return StepInput(self.at(), bool(self.catch_up.data), self.seen_version, detail)


class PrepareForm(StepForm):
    prepared = RadioField(
        say_later("How"), choices=dict(PREPARED), default="conditioned", validate_choice=False
    )
    prepared_with = TextField(say_later("With what"), most=60)


class PutOnForm(StepForm):
    """other_off: the boot that comes off the tree first. instead: another tree than the typed."""

    tree = TextField(
        say_later("Tree"), most=20, needed=say_later("Scan the tree, or type its label.")
    )
    setting = TextField(say_later("Setting of the tree"), most=12)
    read_as = RadioField(say_later("On the tree the tape reads"), choices=[], validate_choice=False)
    on_tree = TextField(say_later("Another girth"), most=24)
    planned = HiddenField()
    before = TextField(say_later("Before, at the mark"), most=24)
    method = SelectField(
        say_later("How measured"), choices=dict(METHODS), default="outside", validate_choice=False
    )
    mark = TextField(say_later("Height of the mark"), most=24)
    pads = TextField(say_later("Pads"), most=40)
    shift = SelectField(
        say_later("The tree sits"), choices={"0": ""}, default="0", validate_choice=False
    )
    prepared = SelectField(
        say_later("Prepared"),
        choices={"": say_later("As saved"), **dict(PREPARED)},
        default="",
        validate_choice=False,
    )
    override_why = RadioField(
        say_later("Why go past the limit?"), choices=dict(REASONS), validate_choice=False
    )
    take_tree = HiddenField()
    on_anyway = HiddenField()
    other_off = HiddenField()
    instead = HiddenField()


class TurnUpForm(StepForm):
    girth = TextField(say_later("On the tree the tape reads"), most=24)
    setting = TextField(say_later("Setting of the tree"), most=12)
    override_why = RadioField(
        say_later("Why go past the limit?"), choices=dict(REASONS), validate_choice=False
    )


class TakeOffForm(StepForm):
    early = RadioField(
        say_later("Why does it come off early?"), choices=dict(EARLY), validate_choice=False
    )
    came_out = RadioField(
        say_later("How the tree came out"), choices=dict(CAME_OUT), validate_choice=False
    )


class RestedReadingForm(StepForm):
    """off, off_time: when it came off, where that was never saved.

    tape_right: below the one before, or over that on the tree. again: what a second reading is.
    """

    rested = TextField(
        say_later("Rested, at the mark"),
        most=24,
        needed=say_later("Type what the tape reads at the mark, after resting."),
    )
    method = SelectField(
        say_later("How measured"),
        choices={"": say_later("As before"), **dict(METHODS)},
        default="",
        validate_choice=False,
    )
    again = RadioField(
        say_later("Measured once already"),
        choices={
            "both": say_later("Count both readings"),
            "instead": say_later("The first was wrong"),
        },
        default="both",
        validate_choice=False,
    )
    off = RadioField(say_later("Came off"), choices=dict(WHEN), validate_choice=False)
    off_time = TextField(say_later("Day and time"), most=20, render_kw={"type": "datetime-local"})
    tape_right = HiddenField()

    def off_at(self) -> datetime | None:
        """Raises BadInput."""
        if not self.off.data:
            return None
        return happened_at(self.off.data, self.off_time.data, the_shop().zone)


class PlainForm(StepForm):
    """A step that asks only when."""


class FinishForm(StepForm):
    shaper = TextField(say_later("Which shaper"), most=20)


class ShelveForm(StepForm):
    shelf = TextField(say_later("Shelf"), most=12, needed=say_later("Type the shelf, like B2."))
    shaper = TextField(say_later("Which shaper"), most=20)


class WorkDoneForm(StepForm):
    shelf = TextField(say_later("Shelf"), most=12, needed=say_later("Type the shelf, like B2."))


class WaitForm(StepForm):
    waits_for = RadioField(say_later("Waiting for"), choices=dict(WAITS_FOR), validate_choice=False)
    waits_what = TextField(say_later("What exactly"), most=80)


class StopForm(StepForm):
    what = TextField(
        say_later("What went wrong"),
        most=200,
        needed=say_later("Type what went wrong, in a few words."),
    )
    where_on = TextField(say_later("Where on the item"), most=60)


class FurtherForm(StepForm):
    state = RadioField(say_later("Now"), choices=[], validate_choice=False)
    tree = TextField(say_later("Which tree, if it is on one"), most=20)


class FindingForm(StepForm):
    """fault: a button that saves at once and stops the boot; word: only noted."""

    fault = HiddenField()
    word = RadioField(
        say_later("Only note it"),
        choices={code: say_later(words) for code, words in OTHER_WORDS.items()},
        validate_choice=False,
    )
    place = TextField(say_later("Where on the item"), most=60)
    note = TextField(say_later("Note"), most=200)


class UndoForm(SavedForm):
    step_id = HiddenField()


class LeaveOnForm(StepForm):
    until = TextField(say_later("Comes off on"), most=12, render_kw={"type": "date"})
    confirmed = HiddenField()


class PickupDayForm(SavedForm):
    day = TextField(say_later("Pickup day"), most=12, render_kw={"type": "date"})


class OffForm(SavedForm):
    """taken: ids of the boots taken off before, so that the list stays on the page."""

    scan = TextField(
        say_later("Scan or type the boot"),
        most=120,
        needed=say_later("Scan a tag, or type a number with L or R."),
    )
    taken = HiddenField()

    def before(self) -> list[str]:
        """At most fifty ids, as they came."""
        return [
            one
            for one in str(self.taken.data or "").split(",")
            if one.isascii() and one.isdigit() and len(one) < 12
        ][:50]
