"""While a boot is on its way: the rules that say to stop."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.assess_jobs import job, left

from fitcounter.fit.assessment import no_further_round
from fitcounter.fit.assessment.kept_fraction import MeasuredRound
from fitcounter.fit.assessment.opening_ahead import Opening

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
    assert no_further_round.stop_rule(rounds, surprise, opening, agreed) == rule


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
    assert no_further_round.stop_sentences(None, ("scuffs",)) == []
    for stop, sentence in no_further_round.STOPS.items():
        assert no_further_round.stop_sentences(stop, ()) == [sentence]
    said = no_further_round.stop_sentences("ceiling", ("zip-gaping", "grain-whitening"))
    starts = ["The grain whitens", "The zip gapes", "This is as far as this leather will go"]
    assert [text[: len(start)] for text, start in zip(said, starts, strict=True)] == starts
    assert (
        len(no_further_round.stop_sentences(None, no_further_round.DAMAGE))
        == len(no_further_round.DAMAGE)
        == 9
    )
