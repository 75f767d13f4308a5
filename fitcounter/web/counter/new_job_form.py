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
from fitcounter.desk.common.leather_presets import CLOSURES, LEATHERS, LININGS
from fitcounter.desk.common.seen_at_intake import SIGHTS
from fitcounter.desk.common.translation import marked, say_later
from fitcounter.desk.common.usual_work import USUAL
from fitcounter.desk.plan.kept_for_boots_at_home import PromisedSlot
from fitcounter.web.forms.fields import DayField
from fitcounter.web.forms.saved_form import SavedForm, TextField, said

KINDS = {
    "": "–",
    "bag": marked("bag"),
    "belt": marked("belt"),
    "shoe": marked("shoe"),
    "glove": marked("glove"),
    "boot": marked("boot"),
    "other": marked("other"),
}
WORN_WITH = {
    "skin": marked("bare leg"),
    "sheer": marked("stockings"),
    "sock": marked("socks"),
    "breeches": marked("breeches"),
    "jeans": marked("jeans tucked in"),
}
TARGETS = {
    "gap": marked("By the gap at the zipper, boot on"),
    "leg": marked("By the leg, at several heights"),
    "amount": marked("By how much bigger, at some heights"),
    "safe": marked("As much as the leather will take"),
}
BOOTS = {
    "pair": marked("a pair"),
    "left": marked("left only"),
    "right": marked("right only"),
    "none": marked("no boots"),
}
SEEN = {one.word: one.words for one in SIGHTS.values()}
# What is asked for most, so that a tap is enough.
OFTEN = ("heel-tips", "half-soles", "zip", "slider", "seam", "cleaned")
PRESSED = ("find", "more", "keep")


class ThingForm(Form):
    """One other thing on the ticket."""

    kind = SelectField(
        say_later("Kind of item"), choices=said(KINDS), default="", validate_choice=False
    )
    description = TextField(say_later("Color, anything special"), most=80)
    jobs = TextField(say_later("To do"), most=120, render_kw={"list": "work-list"})
    day = DayField(say_later("Promised day"))


class NewJobForm(SavedForm):
    """phone comes first: it finds an old customer. customer: '' or new for somebody new, else the
    id of one that was found.

    ticket: the open ticket that more is added to; then nobody is asked for.
    """

    draft = HiddenField(default=drafts.new_id)
    ticket = HiddenField()
    slot = HiddenField()
    phone = TextField(say_later("Phone number"), most=40)
    customer = RadioField(say_later("Customer"), choices={}, validate_choice=False)
    name = TextField(say_later("Name"), most=80)
    needed_by = DayField(say_later("Needed by"))
    rush = BooleanField(say_later("Rush job"))
    worn_with = SelectField(say_later("Worn with"), choices=said(WORN_WITH), default="sheer")
    boots = RadioField(say_later("Boots to stretch"), choices=said(BOOTS), default="pair")
    material = SelectField(say_later("Leather"), choices=said(LEATHERS), default="full-grain")
    closure = RadioField(say_later("Closure"), choices=said(CLOSURES), default="zip")
    lining = RadioField(say_later("Lining"), choices=said(LININGS), default="leather")
    description = TextField(say_later("Color, anything special"), most=80)
    thickness = TextField(say_later("Leather thickness"), most=24)
    lining_thick = TextField(say_later("Lining thickness"), most=24)
    zip_band = TextField(say_later("Zipper width, with its tapes"), most=24)
    backstay = TextField(say_later("Back seam strip, width"), most=24)
    elastic = TextField(say_later("Elastic, width"), most=24)
    throat = TextField(say_later("Pull-on opening"), most=24)
    signed_off = BooleanField(say_later("Owner approved stretching (ostrich, reptile, fish)"))
    nothing_seen = BooleanField(say_later("No damage seen"))
    seen_left = SelectMultipleField(
        say_later("Left"), choices=said(SEEN), option_widget=CheckboxInput()
    )
    seen_right = SelectMultipleField(
        say_later("Right"), choices=said(SEEN), option_widget=CheckboxInput()
    )
    place_left = TextField(say_later("Where on the left boot"), most=120)
    place_right = TextField(say_later("Where on the right boot"), most=120)
    target = RadioField(say_later("How much bigger"), choices=said(TARGETS), default="gap")
    often = SelectMultipleField(
        say_later("Work on shoes or boots that are not stretched"),
        choices=said({code: USUAL[code].what for code in OFTEN}),
        option_widget=CheckboxInput(),
    )
    things = FieldList(FormField(ThingForm), min_entries=1, max_entries=12)
    arrives = DayField(say_later("Still at home: comes in on"))
    email = TextField(say_later("E-mail"), most=mail.LONGEST)
    note = TextField(say_later("Note"), most=1000)

    @property
    def adds_to(self) -> int | None:
        """The ticket that more is added to."""
        text = str(self.ticket.data or "")
        return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None

    @property
    def slot_id(self) -> int | None:
        """The days that were kept for this job before."""
        text = str(self.slot.data or "")
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


def fill_from_slot(form: NewJobForm, slot: PromisedSlot | None) -> None:
    """Fills in what was asked when the days were kept."""
    if slot is None:
        form.slot.data = ""
        return
    form.name.data, form.material.data, form.boots.data = slot.name, slot.leather, slot.sides
    form.needed_by.data, form.rush.data = slot.needed_by or "", bool(slot.rush)
