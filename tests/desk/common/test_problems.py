"""What is wrong with several fields of one form is said at once, a sentence for each."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.problems import Problems
from fitcounter.errors import BadFields, BadInput, BadReading, Conflict


def test_a_form_without_a_problem_goes_on() -> None:
    problems = Problems()
    with problems.reading():
        day = "2026-03-17"
    problems.raise_any()
    assert (day, bool(problems)) == ("2026-03-17", False)


def test_every_field_that_cannot_be_taken_has_its_sentence() -> None:
    problems = Problems()
    with problems.reading():
        raise BadInput("Type the sum in figures.", field="deposit")
    with problems.reading():
        raise BadReading("Feet are not used here.", field="leg_left_0")
    problems.add("agreed", "Tick this.")
    with pytest.raises(BadFields) as refused:
        problems.raise_any()
    assert refused.value.sentences == {
        "deposit": "Type the sum in figures.",
        "leg_left_0": "Feet are not used here.",
        "agreed": "Tick this.",
    }


def test_of_one_field_the_first_sentence_stays() -> None:
    problems = Problems()
    problems.add("height_1", "Type how high this was read.")
    problems.add("height_1", "Lines 1 and 2 are at the same height.")
    assert problems.sentences == {"height_1": "Type how high this was read."}


def test_an_error_without_a_field_is_kept_at_the_field_of_its_block() -> None:
    problems = Problems()
    with problems.reading("closes_at"):
        raise BadInput("Close after opening.")
    with problems.reading("opens_at"):
        raise BadInput("Type a time.", field="closes_on")
    assert problems.sentences == {"closes_at": "Close after opening.", "closes_on": "Type a time."}


def test_the_sentences_of_a_part_join_those_of_the_whole_form() -> None:
    part, whole = Problems(), Problems()
    part.add("phone", "Type a number.")
    part.add("email", "Type an address.")
    whole.add("name", "Type a name.")
    with whole.reading():
        part.raise_any()
    assert list(whole.sentences) == ["name", "phone", "email"]


def test_what_no_other_typing_cures_is_not_kept_back() -> None:
    problems = Problems()
    with pytest.raises(Conflict), problems.reading():
        raise Conflict("Somebody else saved meanwhile.")
    assert not problems
