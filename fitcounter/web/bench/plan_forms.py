"""The forms of the bench plan: away days, trees kept for boots at home, a shorter hold."""

from __future__ import annotations

from wtforms import BooleanField, HiddenField, RadioField, SelectField

from fitcounter.desk.common.translation import say_later
from fitcounter.web.forms.saved_form import SavedForm, TextField


class AwayForm(SavedForm):
    from_day = TextField(say_later("First day"), most=12, render_kw={"type": "date"})
    to_day = TextField(say_later("Last day"), most=12, render_kw={"type": "date"})
    why = TextField(say_later("Why"), most=60)
    shop_closed = BooleanField(say_later("The whole shop is closed"))
    confirmed = HiddenField()


class SlotForm(SavedForm):
    words = TextField(
        say_later("Whose boots"), most=40, needed=say_later("Type whose boots they are.")
    )
    sides = RadioField(
        say_later("Which"),
        choices={
            "pair": say_later("A pair"),
            "left": say_later("Left"),
            "right": say_later("Right"),
        },
        default="pair",
        validate_choice=False,
    )
    first = TextField(say_later("Come in on"), most=12, render_kw={"type": "date"})
    goes = SelectField(
        say_later("Rounds to reserve trees for"),
        choices={str(n): str(n) for n in range(1, 7)},
        default="2",
        validate_choice=False,
    )


class HoldForm(SavedForm):
    hold_h = TextField(
        say_later("Hours on the tree, each round"),
        most=4,
        needed=say_later("Type the hours, like 72."),
    )
    confirmed = HiddenField()
