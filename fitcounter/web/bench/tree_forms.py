"""The forms of the trees: a new one, measured with the tape, in repair and back."""

from __future__ import annotations

from wtforms import HiddenField, RadioField, SelectField

from fitcounter.desk.common.translation import say_later
from fitcounter.desk.trees.trees import COUNTS, LONGEST_LABEL, SIZES
from fitcounter.desk.trees.trees import SIDES as TREE_SIDES
from fitcounter.web.forms.saved_form import SavedForm, TextField


class TreeForm(SavedForm):
    label = TextField(
        say_later("Label"),
        most=LONGEST_LABEL,
        needed=say_later("Type the label on the tree, like 4 or K2."),
    )
    side = RadioField(say_later("For"), choices=dict(TREE_SIDES), validate_choice=False)
    size = RadioField(say_later("Size"), choices=dict(SIZES), default="", validate_choice=False)
    closed = TextField(say_later("Girth closed, at the fullest place"), most=24)
    open = TextField(say_later("Girth wide open, same place"), most=24)
    counts = SelectField(
        say_later("Setting counted in"),
        choices=dict(COUNTS),
        default="turns",
        validate_choice=False,
    )
    closed_setting = TextField(say_later("Setting when closed"), most=8)
    open_setting = TextField(say_later("Setting when wide open"), most=8)
    note = TextField(say_later("Note"), most=120)
    shift_most = TextField(say_later("May sit higher or lower by, at most"), most=24)


class MeasureTreeForm(SavedForm):
    setting = TextField(
        say_later("Setting"),
        most=8,
        needed=say_later("Type the setting as a number, like 6 or 6.5. 0 is closed."),
    )
    height = TextField(
        say_later("Height above the heel"), most=24, needed=say_later("Type the height, like 12.")
    )
    girth = TextField(
        say_later("The tape around the tree reads"),
        most=24,
        needed=say_later("Type what the tape reads, like 14 1/2."),
    )
    pads = TextField(say_later("Pads on the tree"), most=40)


class TreeStateForm(SavedForm):
    state = HiddenField()
    confirmed = HiddenField()
