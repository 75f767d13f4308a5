"""Where a second reading is worth its time: only where it could change the answer."""

from __future__ import annotations

import math
from typing import Any

import pytest
from support.assess_jobs import answer, job, shaft
from support.sound_pair import SOUND, pair


def second(data: dict[str, Any], side: str = "left") -> list[str]:
    return [
        slip["where"]
        for slip in answer(data)[side]["slips"]
        if "could change the answer" in slip["question"]
    ]


def short_pair(calf: str, **top: Any) -> dict[str, Any]:
    data = pair(*SOUND[:3], ("calf", "300", (calf,), (calf,)), **top)
    data["left"]["boot"] = shaft(("100", "260"), ("170", "290"), ("240", "340"), ("310", "360"))
    return data


def test_a_second_reading_is_asked_for_only_where_it_could_change_the_answer() -> None:
    """Beside the tightest place, of what was read once; where nothing can change, nothing is
    asked.
    """
    close = short_pair("368")
    assert second(close) == ["left leg, 300 mm", "left boot, 240 mm", "left boot, 310 mm"]
    close["left"]["leg"][3]["girth"] = ["368", "368"]
    assert second(close) == ["left boot, 240 mm", "left boot, 310 mm"]
    assert second(short_pair("335")) == []


def test_what_is_read_well_enough_is_said_to_be() -> None:
    """Where the doubt could not change the answer; not of an amount, which was not read, nor of
    what is refused.
    """
    refused = short_pair("400")
    refused["boot"]["material"] = "coated"
    for data, said in (
        (short_pair("335"), True),
        (short_pair("368"), False),
        (job(), False),
        (refused, False),
    ):
        reasons = [
            sentence for sentence in answer(data)["reasons"] if not sentence.startswith("Right: ")
        ]
        assert (
            any(
                "good enough: a second reading would not change the answer" in sentence
                for sentence in reasons
            )
            is said
        )


def test_the_boots_own_reading_at_the_tightest_place_is_asked_alone() -> None:
    """Neighbours only where there is none at the place itself."""
    close = short_pair("368")
    close["left"]["boot"] = shaft(("100", "260"), ("170", "290"), ("240", "340"), ("300", "357"))
    assert second(close) == ["left leg, 300 mm", "left boot, 300 mm"]


def test_a_gap_that_could_change_the_answer_is_read_again_and_an_amount_never_is() -> None:
    """A gap is sure to 3 mm; an amount is sure."""
    gap = job(
        {"target": "gap", "gaps": [{"height": "250", "gap": "2"}, {"height": "300", "gap": "5"}]}
    )
    assert second(gap) == ["left gap, 300 mm"]
    gap["left"]["gaps"][1]["gap"] = ["5", "5"]
    assert second(gap) == []
    assert second(job({"amounts": [{"height": "300", "amount": "3.2"}]})) == []


def test_a_gap_read_twice_counts_as_its_middle_and_is_surer() -> None:
    """Its doubt is 3 mm over the root of the times; readings that differ by more than 5 mm ask for
    a third.
    """
    once, twice = (
        job({"target": "gap", "gaps": [{"height": "300", "gap": said}]})
        for said in ("15", ["14", "16"])
    )
    first, more = (answer(said)["left"]["worst"] for said in (once, twice))
    assert (first["need_mm"], more["need_mm"]) == (15, 15)
    assert (first["need_u_mm"], more["need_u_mm"]) == (
        3,
        pytest.approx(3 / math.sqrt(2), abs=0.001),
    )
    apart = job({"target": "gap", "gaps": [{"height": "300", "gap": ["12", "18"]}]})
    questions = [(slip["where"], slip["question"]) for slip in answer(apart)["left"]["slips"]]
    assert (
        "left gap, 300 mm",
        "Please measure again: the readings differ, one more decides.",
    ) in questions


def test_what_is_refused_for_its_leather_is_not_read_again() -> None:
    """No reading could change that."""
    data = short_pair("368")
    data["boot"]["material"] = "coated"
    assert second(data) == []
