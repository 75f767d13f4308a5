"""While a boot is on its way: stop rules and other holds."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.assess_jobs import job, left

from fitcounter.fit.assessment import course
from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.forecast import Opening, Running
from fitcounter.fit.assessment.kept import MeasuredRound

OPENING = Opening(412.0, 12.0, "round", 0.5)
GOOD = MeasuredRound(400.0, 414.0, 407.0)
POOR = MeasuredRound(400.0, 440.0, 406.0)
A_FIFTH = MeasuredRound(400.0, 440.0, 408.0)


def amount(mm: str, **more: Any) -> dict[str, Any]:
    return {"amounts": [{"height": "300", "amount": mm}], **more}


@pytest.mark.parametrize(
    ("rounds", "surprise", "opening", "agreed", "rule"),
    [
        ([GOOD], 0.0, OPENING, 4, None),
        ([GOOD], 0.0, replace(OPENING, opening_mm=3.175, limited_by="ceiling"), 4, "ceiling"),
        ([GOOD], 0.0, replace(OPENING, opening_mm=3.175001, limited_by="ceiling"), 4, "ceiling"),
        ([GOOD], 0.0, replace(OPENING, opening_mm=3.2, limited_by="ceiling"), 4, None),
        ([GOOD], 0.0, replace(OPENING, opening_mm=3.0, limited_by="zip"), 4, None),
        ([GOOD], 0.0, replace(OPENING, opening_mm=3.0, limited_by="need"), 4, None),
        ([GOOD], -9.0, replace(OPENING, opening_mm=2.0, limited_by="running"), 1, None),
        ([GOOD, GOOD], 0.0, OPENING, 2, "rounds-beyond"),
        ([POOR, POOR], 0.0, OPENING, 4, "poor-rounds"),
        ([POOR, POOR], -3.0, OPENING, 2, "poor-rounds"),
        ([POOR, GOOD], 0.0, OPENING, 4, None),
        ([GOOD, POOR], 0.0, OPENING, 4, None),
        ([POOR], 0.0, OPENING, 4, None),
        ([GOOD, POOR, POOR], 0.0, OPENING, 4, "poor-rounds"),
        ([POOR, A_FIFTH], 0.0, OPENING, 4, None),
        ([POOR, MeasuredRound(400.0, None, 406.0)], None, OPENING, 4, None),
        ([GOOD], -2.0, OPENING, 4, None),
        ([GOOD], -2.0001, OPENING, 4, "small-gain"),
        ([GOOD], -2.0001, OPENING, 1, "small-gain"),
        ([], None, OPENING, 4, None),
    ],
)
def test_the_first_rule_that_holds_stops(
    rounds: list[MeasuredRound],
    surprise: float | None,
    opening: Opening,
    agreed: int,
    rule: str | None,
) -> None:
    """Ceiling, two poor rounds, a small gain, rounds agreed; never while on a tree."""
    assert course.stop_rule(rounds, surprise, opening, agreed) == rule


@pytest.mark.parametrize(("rested", "rule"), [("406.07", "small-gain"), ("406.09", None)])
def test_a_first_round_gained_too_little_under_six_millimetres(
    rested: str, rule: str | None
) -> None:
    """Opened 24 for a week, 14.43 expected: two standard deviations under it is 6.08."""
    rounds = [{"before": "400", "on_tree": "424", "rested": rested}]
    data = job(amount("20"))
    data["left"]["rounds"] = rounds
    assert left(data)["stop"] == rule


def test_a_stop_and_each_damage_have_their_own_sentence() -> None:
    """Damage first; nothing seen and no rule: go on."""
    assert course.stop_sentences(None, ("scuffs",)) == []
    for stop, sentence in course.STOPS.items():
        assert course.stop_sentences(stop, ()) == [sentence]
    said = course.stop_sentences("ceiling", ("zip-gaping", "grain-whitening"))
    starts = ["The grain whitens", "The zip gapes", "This is as far as this leather will go"]
    assert [text[: len(start)] for text, start in zip(said, starts, strict=True)] == starts
    assert len(course.stop_sentences(None, course.DAMAGE)) == len(course.DAMAGE) == 9


def test_other_holds_are_forecast_beside_the_asked_one() -> None:
    """48, 72 and 168 h; days on the tree and of rest for the likely rounds."""
    data = job(amount("26"))
    found = assess(read_job(data)).sides[0].verdict.course
    assert found is not None
    choices = course.hold_choices(found.stand)
    assert [choice.hold_h for choice in choices] == [48.0, 72.0, 168.0]
    asked = choices[-1]
    assert (asked.likely, asked.eight_in_ten) == (found.odds.likely, found.odds.eight_in_ten)
    rounds = [choice.likely or 0 for choice in choices]
    assert [choice.days for choice in choices] == [rounds[0] * 3, rounds[1] * 4, rounds[2] * 8]
    assert choices[0].eight_in_ten >= choices[2].eight_in_ten  # type: ignore[operator]
    stuck = course.hold_choices(replace(found.stand, tree_mm=401.0))
    assert [(choice.likely, choice.eight_in_ten, choice.days) for choice in stuck] == [
        (None, None, None)
    ] * 3
    running = course.hold_choices(
        replace(found.stand, lived=1, running=Running(60.0, 168.0, False))
    )
    assert {choice.likely for choice in running} == {1}


def test_the_days_of_a_round_are_hold_and_rest_in_whole_days() -> None:
    """49 hours are three days on the tree."""
    assert [course.round_days(hold_h) for hold_h in (24, 48, 49, 168)] == [2, 3, 4, 8]


@pytest.mark.parametrize(
    ("first", "wanted", "tree", "kept", "rounds"),
    [
        (400, 400, 399, 0.5, 0),
        (401, 400, 420, 0.5, 0),
        (399, 400, 400, 0.5, None),
        (399, 400, 398, 0.5, None),
        (400, 412, 416, 0.5, 2),
        (400, 412.1, 416, 0.5, 3),
        (400, 407, 416, 0.5, 1),
        (400, 412, 416, 0.25, 5),
    ],
)
def test_on_one_tree_each_round_keeps_its_share_of_what_is_left_to_the_tree(
    first: float, wanted: float, tree: float, kept: float, rounds: int | None
) -> None:
    """By halves from 16 mm under the tree: 8, 12 and 14 after one, two and three rounds; by
    quarters 4, 7, 9.25, 10.94 and 12.2. Never where the tree ends at what is wanted.
    """
    assert course.rounds_on_one_tree(first, wanted, tree, kept) == rounds
