"""Each note and the room of a boot as a sentence among the reasons."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import answer, example, job, leg


def said(data: dict[str, Any]) -> str:
    return " ".join(answer(data)["reasons"])


def amount(mm: str, height: str = "300") -> dict[str, Any]:
    return {"amounts": [{"height": height, "amount": mm}]}


def legs(*girths: str) -> dict[str, Any]:
    heights = ("200", "300", "450")
    rows = [("none", height, girth) for height, girth in zip(heights, girths, strict=False)]
    return {"target": "leg", "leg": leg(*rows)}


NEARLY = {"target": "gap", "amounts": [], "gaps": [{"height": "300", "gap": "2"}]}
ELASTIC = {"elastic": {"width_mm": 60, "from_mm": 0, "to_mm": 400}}


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (job(NEARLY), "nearly closes: 2 mm at 300 mm."),
        (job(amount("7")), "so small a stretch mostly springs back: condition the boot and wear"),
        (job(amount("20", "120")), "that is low on the shaft: few trees open so low."),
        (job(legs("380", "412"), ELASTIC), "the elastic may be enough: try the boot on first."),
        (
            job(legs("380", "412", "420"), {"top_mm": 410}),
            "the boot ends below the highest reading: compared up to 400 mm.",
        ),
        (
            job({"target": "leg", "leg": leg(("none", "60", "380"), ("none", "300", "412"))}),
            "the boot was not measured below 100 mm.",
        ),
        (
            job(legs("355.4", "380")),
            "too wide by up to 44 mm at 200 mm: taking in, not stretching.",
        ),
    ],
)
def test_each_note_has_its_sentence(data: dict[str, Any], sentence: str) -> None:
    """With its lengths; and another job does not say it."""
    assert sentence in said(data)
    assert sentence not in said(job(amount("12")))


def test_a_boot_tight_in_one_place_is_not_told_to_be_taken_in() -> None:
    """Room below, short above: stretching is the answer."""
    data = job(legs("380", "412"))
    assert answer(data)["left"]["room"] is not None
    assert "taking in" not in said(data)


def test_the_other_boots_rounds_are_named_where_they_move_the_guess() -> None:
    """Left kept little, so the right is expected to; alike leather only."""
    data = job(amount("25"))
    data["left"]["rounds"] = [{"before": "400", "on_tree": "424", "rested": "407"}]
    sentence = "Right: the left boot kept less than usual; we expect it of the right too."
    assert sentence in answer(data)["reasons"]
    data["left"]["rounds"][0]["rested"] = "419"
    assert "the left boot kept more than usual" in said(data)
    data["right"]["differs"] = {"material": "full-grain"}
    assert "than usual" not in said(data)


def test_where_a_stop_rule_holds_the_odds_are_withheld() -> None:
    """The rule is said in their place."""
    data = job(amount("25"))
    rounds = [{"before": "400", "on_tree": "424", "rested": "404"}]
    data["left"]["rounds"] = rounds
    reasons = [text for text in answer(data)["reasons"] if text.startswith("Left")]
    assert any("gained far less" in text for text in reasons)
    assert not any("most likely" in text or "truly close" in text for text in reasons)


def test_how_many_of_the_done_truly_close_stands_beside_the_odds() -> None:
    """And that they are tried on before the shelf; never for a panel."""
    assert "of boots called done, 8 in 10 truly close: try them on before" in said(example("a"))
    assert "truly close" not in said(job(amount("130")))


def test_far_on_the_tree_the_grain_is_looked_at() -> None:
    """From 15 per cent of the leather."""
    words = "look at the grain at every turn"
    assert words in said(example("d"))
    assert words not in said(example("a"))
