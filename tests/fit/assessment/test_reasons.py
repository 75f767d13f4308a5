"""The numbers that decided, as sentences: each where it holds and only there."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import answer, example, job, left, leg

from fitcounter.fit.assessment.reasons import _not_enough


@pytest.mark.parametrize(
    ("within", "said"),
    [
        (0.0, "4 more rounds will probably not do it"),
        (0.39, "4 more rounds will probably not do it"),
        (0.4, "4 more rounds may not do it"),
        (0.49, "4 more rounds may not do it"),
    ],
)
def test_too_many_rounds_are_said_as_at_a_counter(within: float, said: str) -> None:
    """From about even on, nobody says "probably not"."""
    assert _not_enough(4, within) == said


def said(data: dict[str, Any], what: str = "reasons") -> str:
    return " ".join(answer(data)[what])


def amount(mm: str, **more: Any) -> dict[str, Any]:
    return {"amounts": [{"height": "300", "amount": mm}], **more}


def test_the_reasons_give_the_numbers_that_decided() -> None:
    """Short by, where, its share of the leather, the limits, what is kept, the next opening, the
    goes.
    """
    reasons = answer(example("a"))["reasons"]
    assert reasons[0] == "Left: short by ⅞ in at 12 in, the tightest place (by leg)."
    assert (
        reasons[1]
        == "Left: that is 7.6 % of the leather there, counted from the boot as first brought in."
    )
    assert reasons[2] == "Left: usual for this leather: 4.0 %, one round 10.0 %, never over 17.0 %."
    assert (
        reasons[3]
        == "Left: about 50 % of an opening stays after a day on the tree: the table, a guess."
    )
    assert reasons[4] == "Left: the next opening is 1⅛ in, limited by the most for one round."
    assert reasons[5] == "Left: most likely two rounds, perhaps one; 9 in 10 within 4."
    assert next(sentence for sentence in reasons if sentence.startswith("Right: ")).startswith(
        "Right: short by 1 1/16 in"
    )


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (job(amount("0")), "nowhere short by more than a tape can tell (by how much bigger)"),
        (example("c"), "short by ¾ in"),
        (
            job({"target": "leg", "leg": leg(("calf", "300", "420"))}),
            "few heights were measured: rough between them",
        ),
        (job(amount("120")), "4 more rounds will probably not do it"),
        (
            job(amount("30"), tree_max_mm=402),
            "the next opening would be 2 mm: the tree wide open",
        ),
        (
            job(amount("10"), {"rigid": [{"width_mm": 300, "to_mm": 400}]}),
            "too little leather to stretch at 300 mm: under 30.0 %",
        ),
        (job(amount("10", findings=["red-rot"])), "the leather is powdering (red rot)"),
        (job(amount("10", findings=["open-seam"])), "a seam is open: sew it first"),
        (
            job(amount("10"), {"zip": {"from_mm": 0, "to_mm": 400, "state": "damaged"}}),
            "the zipper is damaged: repair it first",
        ),
        (job(amount("10", findings=["scuffs", "prior-stretch"])), "what we saw: scuffs"),
        (job(amount("10"), {"throat_mm": 300}), ""),
        (
            job(amount("10", heel="310"), {"throat_mm": 300}),
            "will not pass: the opening is 300 mm, the heel measure 310 mm",
        ),
        (
            job(amount("10"), {"elastic": {"width_mm": 40, "to_mm": 100}}),
            "the elastic gives another 10 mm under a gentle",
        ),
        (
            job(amount("10"), records={"supple-full-grain": {"mean": 0.5, "sd": 0.1, "boots": 14}}),
            "14 of the shop’s boots",
        ),
    ],
)
def test_each_reason_is_said_where_it_holds(data: dict[str, Any], sentence: str) -> None:
    """And only there."""
    assert sentence in said(data)
    if sentence:
        assert sentence not in said(job(amount("12")))


def test_a_known_finding_is_not_repeated_as_seen() -> None:
    """It has its own sentence or effect."""
    assert "what we saw: prior-stretch" not in said(
        job(amount("10", findings=["prior-stretch", "scuffs"]))
    )


def test_rounds_by_two_methods_and_blind_rounds_say_so() -> None:
    """Own rounds are counted; a round without an on-tree reading gives no fraction."""
    rounds = [
        {"before": "400", "on_tree": "414", "rested": "406"},
        {"before": "203", "on_tree": None, "rested": "205", "method": "flat"},
    ]
    data = job(amount("25", rounds=rounds))
    assert "the rounds were measured in two ways: each is compared with its own start" in said(data)
    assert (
        "a round without a reading on the tree, taken the same way, does not say what stays"
        in said(data)
    )
    assert "a guess and 1 round of this boot" in said(data)
    assert left(data)["worst"]["need_mm"] == pytest.approx(25 - 6 - 4)
