"""What is said at the bench after a rested reading: what was kept of what was opened, and what was
guessed of this very round.
"""

from __future__ import annotations

import pytest
from support.assess_jobs import job

from fitcounter.desk.assessment.standing import Standing, kept_sentence
from fitcounter.fit.assessment.assess import case_of, read_job
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.verdict import judge


def line(*rounds: dict[str, object], amount: str = "25") -> str:
    """The line of a supple boot, the table keeping .50 of an opening after a day, in inches."""
    side = {
        "rounds": [
            {"method": "outside", "hold_h": 24, "prepared": "conditioned", **one} for one in rounds
        ]
    }
    read = read_job(job({**side, "amounts": [{"height": "300", "amount": amount}]}), ("left",))
    case = case_of(read, read.sides[0], HANDBOOK)
    return kept_sentence(Standing(case, judge(case)), "in")


def test_it_says_kept_of_opened_and_what_was_guessed():
    said = line({"before": "14 in", "on_tree": "14 15/16 in", "rested": "14 7/16 in"}, amount="22")
    assert said == "Kept 7/16 in of 15/16 in (estimate: about half)."


@pytest.mark.parametrize(
    ("hold_h", "prepared", "guess"),
    [
        (24, "conditioned", "about half"),
        (168, "conditioned", "about two thirds"),
        (24, "dry", "about a third"),
    ],
)
def test_the_guess_is_of_a_round_held_and_prepared_like_this_one(
    hold_h: int, prepared: str, guess: str
):
    said = line(
        {"before": "400", "on_tree": "424", "rested": "411", "hold_h": hold_h, "prepared": prepared}
    )
    assert f"(estimate: {guess})." in said


def test_after_the_second_round_the_guess_is_what_the_first_had_taught():
    first = {"before": "400", "on_tree": "424", "rested": "407"}
    assert "estimate: about half" in line(first)
    assert "estimate: about a third" in line(
        first, {"before": "407", "on_tree": "429", "rested": "412"}
    )


def test_a_round_without_its_opening_claims_no_share():
    assert "no share kept" in line({"before": "400", "on_tree": None, "rested": "411"})
