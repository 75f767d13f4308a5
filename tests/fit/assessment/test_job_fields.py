"""A JSON object read key by key: every refusal names its field and says what to write."""

from __future__ import annotations

import math
from functools import partial

import pytest

from fitcounter.errors import BadInput, BadReading
from fitcounter.fit.assessment import job_fields
from fitcounter.fit.assessment.job_fields import Fields
from fitcounter.fit.handbook import job as book
from fitcounter.fit.tape import parse_length


def refusal(read) -> BadInput | BadReading:  # type: ignore[no-untyped-def]
    with pytest.raises((BadInput, BadReading)) as refused:
        read()
    return refused.value


def test_a_key_is_named_below_its_object_and_alone_at_the_top() -> None:
    assert Fields({"mm": 3}, "ease", ("mm",)).field("mm") == "ease.mm"
    assert Fields({}, "", ("mm",)).field("mm") == "mm"


def test_a_name_that_does_not_show_is_spelled_out() -> None:
    assert job_fields.below("left", "heel") == "left.heel"
    assert job_fields.below("left", "he\u202eel") == "left.'he\\u202eel'"
    assert job_fields.below("", "") == "''"


def test_what_is_missing_and_what_is_unknown_are_said_as_such() -> None:
    fields = Fields({"mm": 3}, "ease", ("mm", "unit"))
    assert refusal(lambda: fields.get("unit")).sentence == "ease.unit: is missing; write it."
    assert fields.get("unit", "in") == "in"
    unknown = refusal(lambda: Fields({"cm": 3}, "ease", ("mm",)))
    assert unknown.field == "ease.cm"
    assert "write one of mm." in unknown.sentence
    assert refusal(lambda: Fields([], "", ())).sentence.startswith("the job: write an object")


@pytest.mark.parametrize("value", [True, "3", None, math.nan, math.inf, 10**400, [3], -1, 31])
def test_only_a_finite_number_within_its_range_is_one(value: object) -> None:
    """A wall is 0 to 30 mm, ends included."""
    for end in (0, 30, 2.5):
        assert job_fields.in_range("boot.wall_mm", end, "wall_mm") == end
    refused = refusal(lambda: job_fields.in_range("boot.wall_mm", value, "wall_mm"))
    assert refused.sentence == "boot.wall_mm: write a number from 0 to 30."


@pytest.mark.parametrize("value", [True, 1.0, "1", None, 0, 7])
def test_only_a_whole_number_within_its_range_is_one(value: object) -> None:
    assert [job_fields.whole_in("max_rounds", n, 1, 6) for n in (1, 6)] == [1, 6]
    refused = refusal(lambda: job_fields.whole_in("max_rounds", value, 1, 6))
    assert refused.sentence == "max_rounds: write a whole number from 1 to 6."


def test_entries_of_a_list_are_read_with_their_own_path() -> None:
    fields = Fields({"leg": ["a", "b"]}, "left", ("leg",))
    assert fields.items("leg", lambda value, path: (path, value)) == (
        ("left.leg[0]", "a"),
        ("left.leg[1]", "b"),
    )
    for long in ([0] * (book.LIST_MOST + 1), "ab", {"a": 1}):
        assert refusal(partial(job_fields.listed, "left.leg", long)).field == "left.leg"


def test_a_place_has_one_reading_at_least_and_not_too_many() -> None:
    readings = job_fields.read_lengths(["16 1/4", "41.3 cm"], "left.girth", "in")
    assert [length.unit for length in readings] == ["in", "cm"]
    for wrong in ([], ["16"] * (book.READINGS_MOST + 1), "16"):
        refused = refusal(partial(job_fields.read_lengths, wrong, "g", "in"))
        assert refused.field == "g"


@pytest.mark.parametrize("value", ["", "x" * (book.WORD_MOST + 1), "a\x00b", "\ud800", 3, None])
def test_a_word_is_short_and_shows(value: object) -> None:
    assert job_fields.read_word("x" * book.WORD_MOST, "name") == "x" * book.WORD_MOST
    assert refusal(lambda: job_fields.read_word(value, "name")).field == "name"


def test_a_length_read_elsewhere_is_held_against_the_same_range() -> None:
    right, far = parse_length("16 1/4", "in"), parse_length("99", "in")
    assert job_fields.length_in("girth", right, "girth_mm") is right
    refused = refusal(lambda: job_fields.length_in("girth", far, "girth_mm"))
    assert (
        refused.sentence
        == refusal(lambda: job_fields.read_length("99", "girth", "in", "girth_mm")).sentence
    )


def test_a_height_is_given_once_whatever_its_unit() -> None:
    heights = [parse_length("10", "in"), None, parse_length("25.4", "cm"), None]
    refused = refusal(lambda: job_fields.heights_once("left.leg", heights))
    assert refused.field == "left.leg[2].height"
    assert "left.leg[0].height" in refused.sentence
