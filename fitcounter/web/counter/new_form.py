"""The fields of New job, in the order in which a counter asks."""

from __future__ import annotations

from flask import request
from werkzeug.datastructures import MultiDict
from wtforms import (
    BooleanField,
    Field,
    FieldList,
    Form,
    FormField,
    HiddenField,
    RadioField,
    SelectField,
    SelectMultipleField,
)
from wtforms.widgets import CheckboxInput

from fitcounter.desk.common import drafts, mail
from fitcounter.desk.common.condition import SIGHTS
from fitcounter.desk.common.leather_presets import CLOSURES, LEATHERS, LININGS
from fitcounter.web.fields import DayField
from fitcounter.web.forms import SavedForm, TextField

KINDS = {
    "": "–",
    "bag": "bag",
    "belt": "belt",
    "shoe": "shoe",
    "glove": "glove",
    "boot": "boot",
    "other": "other",
}
WORN_WITH = {
    "skin": "bare leg",
    "sheer": "stockings",
    "sock": "socks",
    "breeches": "breeches",
    "jeans": "jeans tucked in",
}
TARGETS = {
    "gap": "By the gap at the zip: boot on, edges held together",
    "leg": "By the leg, at several heights",
    "amount": "By an amount, half an inch more at 12",
    "safe": "As far as is safe",
}
BOOTS = {"pair": "a pair", "left": "left only", "right": "right only", "none": "no boots"}
SEEN = {one.word: one.words for one in SIGHTS.values()}
PRESSED = ("find", "more", "keep")


class ThingForm(Form):
    """One other thing on the ticket."""

    kind = SelectField("What", choices=KINDS, default="", validate_choice=False)
    description = TextField("Which", most=80)
    jobs = TextField("The job", most=120)
    day = DayField("Promised for")


class NewJobForm(SavedForm):
    """phone comes first: it finds an old customer. customer: '' or new for somebody new, else the
    id of one that was found.

    ticket: the open ticket that more is added to; then nobody is asked for.
    """

    draft = HiddenField(default=drafts.new_id)
    ticket = HiddenField()
    phone = TextField("Phone number", most=40)
    customer = RadioField("Whose", choices={}, validate_choice=False)
    name = TextField("First name, or what to call out", most=80)
    needed_by = DayField("Needed by")
    worn_with = SelectField("Worn with", choices=WORN_WITH, default="sheer")
    boots = RadioField("Boots to stretch", choices=BOOTS, default="pair")
    material = SelectField("Leather", choices=LEATHERS, default="full-grain")
    closure = RadioField("Closure", choices=CLOSURES, default="zip")
    lining = RadioField("Lining", choices=LININGS, default="leather")
    description = TextField("How you tell them apart", most=80)
    thickness = TextField("Leather, thick", most=24)
    lining_thick = TextField("Lining, thick", most=24)
    zip_band = TextField("Zip with its tapes, wide", most=24)
    backstay = TextField("Strip at the back seam, wide", most=24)
    elastic = TextField("Elastic, wide", most=24)
    throat = TextField("Throat of a pull-on, round", most=24)
    signed_off = BooleanField("The master has agreed to stretch it (ostrich, reptile, fish)")
    nothing_seen = BooleanField("Nothing seen on either")
    seen_left = SelectMultipleField("Left", choices=SEEN, option_widget=CheckboxInput())
    seen_right = SelectMultipleField("Right", choices=SEEN, option_widget=CheckboxInput())
    place_left = TextField("Where on the left boot", most=120)
    place_right = TextField("Where on the right boot", most=120)
    target = RadioField("How much", choices=TARGETS, default="gap")
    things = FieldList(FormField(ThingForm), min_entries=1, max_entries=12)
    arrives = DayField("Still at home: brought in on")
    email = TextField("E-mail", most=mail.LONGEST)
    note = TextField("Note", most=1000)

    @property
    def adds_to(self) -> int | None:
        """The ticket that more is added to."""
        text = str(self.ticket.data or "")
        return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None

    @property
    def pressed(self) -> str:
        """Which button beside Save was pressed, '' for Save."""
        return next((name for name in PRESSED if name in request.form), "")

    def field_named(self, name: str) -> Field | None:
        """Of the other things too: things-0-jobs."""
        of_things = {field.name: field for entry in self.things for field in entry.form}
        return of_things[name] if name in of_things else super().field_named(name)


def refill(form: NewJobForm, typed: list[tuple[str, str]]) -> None:
    """Puts a draft back into the fields, as it was typed."""
    if typed:
        form.process(MultiDict([*typed, ("submission_id", str(form.submission_id.data))]))
