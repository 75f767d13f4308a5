"""An error carries its sentences, each at the field it is about."""

from __future__ import annotations

from fitcounter.errors import BadFields, BadInput, FitCounterError, OutOfOrder


def test_an_error_of_one_field_has_its_sentence_there() -> None:
    error = BadInput("Type a number.", typed="x", field="phone")
    assert (error.sentences, error.typed) == ({"phone": "Type a number."}, "x")


def test_an_error_of_no_field_has_its_sentence_at_the_top() -> None:
    assert OutOfOrder("It is on its tree.").sentences == {"": "It is on its tree."}


def test_of_several_fields_each_has_its_sentence_and_the_first_stands_for_all() -> None:
    error = BadFields({"phone": "Type a number.", "email": "Type an address."})
    assert error.sentences == {"phone": "Type a number.", "email": "Type an address."}
    assert (error.sentence, error.field, str(error)) == ("Type a number.", "phone", error.sentence)


def test_several_wrong_fields_are_bad_input_like_one() -> None:
    assert issubclass(BadFields, BadInput)
    assert issubclass(BadInput, FitCounterError)
