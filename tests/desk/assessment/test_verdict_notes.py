"""What is said beside the answer to a boot, in the words of the counter."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import job, leg

from fitcounter.desk.assessment.verdict_notes import (
    NOTES,
    fits_sentence,
    moved_sentence,
    note_sentences,
    stop_sentence,
)
from fitcounter.fit.assessment.assess import SideAnswer, assess, read_job
from fitcounter.fit.assessment.no_further_round import STOPS


def left(data: dict[str, Any]) -> SideAnswer:
    return assess(read_job(data)).sides[0]


def beside(data: dict[str, Any]) -> list[str]:
    answered = left(data)
    return note_sentences(answered.side, answered.verdict, data["unit"])


def amount(mm: str, height: str = "300") -> dict[str, Any]:
    return {"amounts": [{"height": height, "amount": mm}]}


def legs(*girths: str) -> dict[str, Any]:
    heights = ("200", "300", "450")
    rows = [("none", height, girth) for height, girth in zip(heights, girths, strict=False)]
    return {"target": "leg", "leg": leg(*rows)}


def rounds(*read: tuple[str, str, str]) -> list[dict[str, str]]:
    return [
        {"before": before, "on_tree": on_tree, "rested": rested} for before, on_tree, rested in read
    ]


@pytest.mark.parametrize(
    ("data", "note", "sentence"),
    [
        (
            job({"target": "gap", "amounts": [], "gaps": [{"height": "300", "gap": "2"}]}),
            "nearly-closes",
            "Nearly closes: 2 mm at 300 mm.",
        ),
        (
            job(amount("7")),
            "springs-back",
            "So small a stretch mostly springs back. Condition the boots and wear them first.",
        ),
        (
            job(amount("20", "120")),
            "low-place",
            "That is low on the shaft: few trees open so low.",
        ),
        (
            job(legs("380", "412"), {"elastic": {"width_mm": 60, "from_mm": 0, "to_mm": 400}}),
            "elastic-first",
            "The elastic may be enough. Try the boots on first.",
        ),
        (
            job(legs("380", "412", "420"), {"top_mm": 410}),
            "not-above",
            "The boot ends below the highest reading: compared up to 400 mm.",
        ),
        (
            job({"target": "leg", "leg": leg(("none", "60", "380"), ("none", "300", "412"))}),
            "not-below",
            "The boot was not measured below 100 mm.",
        ),
        (
            job({**amount("20"), "rounds": rounds(("400", "430", "417"))}),
            "rested-again",
            "Measure a second time, tape off in between: it could turn done into not done, or"
            " back.",
        ),
    ],
)
def test_every_note_is_said_in_the_counters_words(
    data: dict[str, Any], note: str, sentence: str
) -> None:
    assert note in NOTES
    assert sentence in beside(data)
    assert sentence not in beside(job(amount("12")))


def test_room_is_said_where_it_is_everywhere_or_nothing_is_short() -> None:
    said = "Too wide by up to 44 mm at 200 mm: taking in, not stretching."
    assert said in beside(job(legs("355.4", "380")))
    assert not any("Too wide" in sentence for sentence in beside(job(legs("380", "412"))))


def test_where_a_stop_rule_holds_it_is_said_instead_of_how_sure_done_is() -> None:
    going_on = left(job(amount("20"))).verdict
    assert (
        fits_sentence(going_on)
        == "Of boots called done, 9 in 10 truly close: try them on before the shelf."
    )
    assert stop_sentence(going_on) == ""

    kept_nothing = rounds(("400", "424", "403"), ("403", "427", "405"))
    stopped = left(job({**amount("20"), "rounds": kept_nothing})).verdict
    assert stop_sentence(stopped) == STOPS["poor-rounds"]
    assert fits_sentence(stopped) == ""


def test_a_guess_that_the_other_boot_moved_says_so() -> None:
    kept_little = {**amount("20"), "rounds": rounds(("400", "424", "404"))}
    data = job(amount("20"))
    data["right"] = {**job(kept_little)["left"]}
    answered = assess(read_job(data)).sides[0]
    assert (
        moved_sentence(answered.case, "left")
        == "The right kept less than usual, so we expect the left to."
    )
    assert moved_sentence(left(job(amount("20"))).case, "left") == ""
