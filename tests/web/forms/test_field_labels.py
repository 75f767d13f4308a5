"""The fields of a form: each form has its own, said in the language of whoever is served."""

from __future__ import annotations

import gc
import weakref

import pytest
from flask import Flask
from wtforms import BooleanField, FieldList, FormField, HiddenField, RadioField, SelectField
from wtforms.fields.choices import SelectChoice
from wtforms.form import Form

from fitcounter.desk.common.translation import Speech, say_later, speaking
from fitcounter.web.forms.fields import DayField, Picked
from fitcounter.web.forms.saved_form import SavedForm, TextField


class Line(Form):
    note = TextField(say_later("Note"))


class EveryKind(SavedForm):
    note = TextField(say_later("Note"), default="as it was", render_kw={"list": "x"})
    day = DayField(say_later("Day"))
    anyway = BooleanField(say_later("Photo"))
    how = RadioField(
        say_later("Where"), choices=[SelectChoice("a", "A"), SelectChoice("b", "B")], default="a"
    )
    where = SelectField(say_later("Where"), choices=[SelectChoice("a", "A")], default="a")
    picked = Picked(say_later("Where"), {"a": "A"}, default="a")
    seen = HiddenField(default=lambda: "made anew")
    lines = FieldList(FormField(Line), min_entries=1)


@pytest.fixture
def form(app: Flask):
    with app.test_request_context("/", method="POST", data={"note": "mine", "where": "z"}):
        yield EveryKind


def test_what_is_typed_in_one_form_is_in_no_other(form: type[EveryKind]) -> None:
    first, second = form(), form(formdata=None)
    first.validate()
    first["note"].errors = ["wrong"]
    first["note"].label.field_id = "first-note"
    first["where"].choices = [SelectChoice("c", "C")]
    assert (first["note"].data, second["note"].data) == ("mine", "as it was")
    assert (list(second["note"].errors), second["note"].label.field_id) == ([], "note")
    assert [one.value for one in second["where"].iter_choices()] == ["a"]
    third = form(formdata=None)
    assert list(third["where"].errors) == []
    assert third["note"].raw_data is None
    assert third["seen"].data == "made anew"


def test_a_field_has_the_form_and_the_name_that_it_stands_in(form: type[EveryKind]) -> None:
    plain, prefixed = form(formdata=None), form(formdata=None, prefix="x")
    assert (plain["note"].name, prefixed["note"].name) == ("note", "x-note")
    assert (plain["note"].id, prefixed["note"].id) == ("note", "x-note")
    assert plain["note"].meta is plain.meta
    assert plain["lines"].entries[0].form["note"].name == "lines-0-note"
    assert 'list="x"' in str(plain["note"]())
    assert str(plain["how"]()).count("<input") == 2


def test_its_label_is_said_in_the_language_spoken_when_it_is_made(form: type[EveryKind]) -> None:
    with speaking(Speech("es", "ES")):
        spanish = form(formdata=None)
    english = form(formdata=None)
    assert [str(one["note"].label.text) for one in (spanish, english)] == ["Nota", "Note"]


def test_a_form_is_gone_with_its_request_and_not_when_python_searches_for_it(
    form: type[EveryKind],
) -> None:
    class Flat(SavedForm):
        note = TextField(say_later("Note"))

    gc.disable()
    try:
        seen = weakref.ref(Flat(formdata=None))
        kept = form(formdata=None)  # stands in the place of the one before, as with any request
        assert kept["note"].data == "as it was"
        assert seen() is None
    finally:
        gc.enable()
