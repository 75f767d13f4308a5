"""What other holds would do, the days of a round, and rounds on one tree."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.assess_jobs import job

from fitcounter.fit.assessment import hold_choices
from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.opening_ahead import Running


def amount(mm: str, **more: Any) -> dict[str, Any]:
    return {"amounts": [{"height": "300", "amount": mm}], **more}


def test_other_holds_are_forecast_beside_the_asked_one() -> None:
    """48, 72 and 168 h; days on the tree and of rest for the likely rounds."""
    data = job(amount("26"))
    found = assess(read_job(data)).sides[0].verdict.course
    assert found is not None
    choices = hold_choices.hold_choices(found.stand)
    assert [choice.hold_h for choice in choices] == [48.0, 72.0, 168.0]
    asked = choices[-1]
    assert (asked.likely, asked.eight_in_ten) == (found.odds.likely, found.odds.eight_in_ten)
    rounds = [choice.likely or 0 for choice in choices]
    assert [choice.days for choice in choices] == [rounds[0] * 3, rounds[1] * 4, rounds[2] * 8]
    assert choices[0].eight_in_ten >= choices[2].eight_in_ten  # type: ignore[operator]
    stuck = hold_choices.hold_choices(replace(found.stand, tree_mm=401.0))
    assert [(choice.likely, choice.eight_in_ten, choice.days) for choice in stuck] == [
        (None, None, None)
    ] * 3
    running = hold_choices.hold_choices(
        replace(found.stand, lived=1, running=Running(60.0, 168.0, False))
    )
    assert {choice.likely for choice in running} == {1}


def test_the_days_of_a_round_are_hold_and_rest_in_whole_days() -> None:
    """49 hours are three days on the tree."""
    assert [hold_choices.round_days(hold_h) for hold_h in (24, 48, 49, 168)] == [2, 3, 4, 8]


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
    assert hold_choices.rounds_on_one_tree(first, wanted, tree, kept) == rounds
