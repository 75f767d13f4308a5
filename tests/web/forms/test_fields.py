"""Fields that several forms share."""

from __future__ import annotations

import pytest
from flask import Flask
from flask_wtf import FlaskForm

from fitcounter.desk.common.translation import marked, speaking
from fitcounter.web.forms.fields import Picked, PickedInSight

WORDS = {"in": marked("inches"), "cm": marked("centimeters")}


class Sheet(FlaskForm):
    class Meta(FlaskForm.Meta):
        csrf = False

    unit = PickedInSight("Tape in", WORDS, default="in")
    other = Picked("Tape in", WORDS, default="in")


@pytest.mark.parametrize("name", ["unit", "other"])
def test_a_word_that_is_none_of_the_choices_is_refused_in_the_language_spoken(name: str) -> None:
    with (
        Flask("alone").test_request_context(method="POST", data={name: "ell"}),
        speaking("es"),
    ):
        form = Sheet()
        assert not form.validate()
        assert form.errors == {name: ["Elige uno de la lista."]}


def test_the_words_are_shown_in_the_language_spoken_and_the_one_sent_is_taken() -> None:
    with (
        Flask("alone").test_request_context(method="POST", data={"unit": "cm"}),
        speaking("es"),
    ):
        form = Sheet()
        assert form.validate()
        assert (form.unit.data, form.other.data) == ("cm", "in")
        assert "centímetros" in str(form.unit())
        assert '<option selected value="in">pulgadas' in str(form.other())
