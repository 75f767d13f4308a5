"""The answer in words: odds, goes, reasons, what would change it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from support.assess_jobs import answer, example, job, leg, shaft

from fitcounter.fit.assessment import words
from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.materials import Own
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.handbook.leather import LEATHERS

ZIPPED = {"zip": {"from_mm": 0, "to_mm": 400}}
ABBREVIATIONS = re.compile(r"\b(approx|max|min|pct|e\.g|i\.e|etc)\b")


@pytest.mark.parametrize(
    ("probability", "boots", "said"),
    [
        (1.0, 9, "9 in 10"),
        (1.0, 10, "10 in 10"),
        (0.95, 10, "9 in 10"),
        (0.7, 0, "7 in 10"),
        (0.69, 0, "6 in 10"),
        (0.3 * 3, 0, "9 in 10"),
        (0, 0, "0 in 10"),
    ],
)
def test_odds_are_never_said_above_nine_in_ten_on_the_table_alone(
    probability: float, boots: int, said: str
) -> None:
    """Rounded down; ten of the shop's own boots lift the lid."""
    assert words.odds_in_ten(probability, boots) == said


@pytest.mark.parametrize(
    ("counts", "sentence"),
    [
        ((0, 53, 387, 46, 6, 3, 0, 0), "most likely two rounds, perhaps one"),
        ((0, 2, 354, 107, 23, 5, 3, 1), "most likely two rounds, perhaps three"),
        ((0, 480, 15, 0, 0, 0, 0, 0), "most likely one round"),
        ((0, 445, 50, 0, 0, 0, 0, 0), "most likely one round, perhaps two"),
        ((480, 15, 0, 0, 0, 0, 0, 0), "most likely no round"),
        ((300, 195, 0, 0, 0, 0, 0, 0), "most likely no round, perhaps one"),
        ((0, 0, 0, 0, 0, 100, 200, 195), "most likely six rounds, perhaps more than six"),
        ((0, 0, 0, 0, 0, 0, 100, 395), "most likely more than six rounds"),
    ],
)
def test_the_number_of_goes_is_one_sentence(counts: tuple[int, ...], sentence: str) -> None:
    """The likely number, and the one that eight in ten need, or another that has one chance in
    ten.
    """
    assert words.rounds_sentence(Odds(tuple(count / 495 for count in counts))) == sentence


def said(data: dict[str, Any], what: str = "reasons") -> str:
    return " ".join(answer(data)[what])


def amount(mm: str, **more: Any) -> dict[str, Any]:
    return {"amounts": [{"height": "300", "amount": mm}], **more}


def test_what_both_boots_say_alike_is_said_once() -> None:
    """Both: …"""
    assert all(sentence.startswith("Both: ") for sentence in answer(job())["reasons"])
    alone = job()
    del alone["right"]
    assert assess(read_job(alone, ("left",))).reasons[0].endswith("(by how much bigger).")


def test_what_would_change_it_comes_cheapest_first_and_only_what_does() -> None:
    """Strap, hosiery, ease, rounds, facing, mending, panel."""
    both = {
        "target": "leg",
        "leg": leg(("small", "120", "240"), ("calf", "300", "420")),
        "boot": shaft(("100", "377"), ("400", "377")),
    }
    zipped = {"zip": {"from_mm": 0, "to_mm": 400, "state": "damaged"}}
    data = job(both, zipped, ease="close", leg={"over": "jeans"}, max_rounds=1, limits="usual")
    whole = answer(data)
    assert whole["verdict"] == "panel"
    found = [sentence.removeprefix("Both: ") for sentence in whole["would_change"]]
    assert found[0] == "use the next strap hole, if there is one."
    starts = [re.split(r"[:,]", sentence)[0] for sentence in found]
    order = [
        "use the next strap hole",
        "thinner socks, by 0.5 mm",
        "thinner socks, by 1 mm",
        "tight instead of close to the skin",
    ]
    assert [start for start in starts if start in order] == sorted(
        (start for start in starts if start in order), key=order.index
    )
    assert any(re.match(r"\d rounds instead of 1: repair first", sentence) for sentence in found), (
        found
    )
    assert any(
        re.match(r"a zipper facing (6|13) mm wider on each side: ", sentence) for sentence in found
    ), found
    assert found[-1].startswith("a panel ")


def test_nothing_would_change_a_boot_that_fits() -> None:
    """And a routine one is not told of a strap."""
    assert answer(job(amount("0")))["would_change"] == []
    assert answer(job(amount("8")))["would_change"] == []


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (
            job(amount("8", findings=["open-seam"]), max_rounds=2),
            "once the seam is sewn: yes, one or two rounds (most likely one round)",
        ),
        (
            job(
                amount("8", findings=["open-seam"]), {"zip": {**ZIPPED["zip"], "state": "damaged"}}
            ),
            "once zipper and seam are repaired: yes, one or two rounds (most likely one round)",
        ),
        (job(amount("6"), {"material": "exotic"}), "with the owner’s approval: "),
        (
            job(amount("34"), ZIPPED),
            "a zipper facing 6 mm wider on each side: yes, one or two rounds (most likely one"
            " round)",
        ),
        (
            job(amount("14"), {**ZIPPED, "material": "firm-full-grain"}),
            "a zipper facing 6 mm wider on each side: that alone is enough",
        ),
        (
            job(amount("30"), max_rounds=1),
            "2 rounds instead of 1: yes, one or two rounds (most likely two rounds)",
        ),
    ],
)
def test_an_option_is_named_with_what_it_brings(data: dict[str, Any], sentence: str) -> None:
    """The tier it leads to, and the likely goes."""
    assert sentence in said(data, "would_change")


def by_leg(calf: str, **top: Any) -> dict[str, Any]:
    return job({"target": "leg", "leg": leg(("calf", "300", calf))}, **top)


def test_thinner_hosiery_is_offered_only_where_something_thick_was_worn() -> None:
    """Sock, breeches, jeans or a layer; half a millimetre first."""
    assert "thinner socks, by 0.5 mm: that alone is enough" in said(
        by_leg("405", leg={"over": "jeans"}), "would_change"
    )
    assert "thinner socks, by 1 mm: that alone is enough" in said(
        by_leg("408", leg={"over": "sock"}), "would_change"
    )
    assert "thinner socks" in said(by_leg("400", leg={"layer_mm": 1}), "would_change")
    assert "thinner socks" not in said(by_leg("405"), "would_change")
    assert "thinner socks" not in said(by_leg("480", leg={"over": "breeches"}), "would_change")
    assert "thinner socks" not in said(by_leg("440", leg={"over": "sheer"}), "would_change")


def test_the_next_snugger_ease_is_offered_and_no_other() -> None:
    """Roomy to easy, easy to close, close to snug; nothing below snug, nothing for an amount of
    ease.
    """
    assert "one finger instead of two fingers" in said(by_leg("390", ease="roomy"), "would_change")
    assert "close to the skin instead of one finger" in said(
        by_leg("402", ease="easy"), "would_change"
    )
    assert "tight instead of close to the skin: that alone is enough" in said(
        by_leg("410"), "would_change"
    )
    assert "instead of" not in said(by_leg("418", ease="snug"), "would_change")
    assert "instead of" not in said(by_leg("405", ease={"mm": 5}), "would_change")
    assert "instead of" not in said(job(amount("10")), "would_change")


def test_a_panel_is_told_by_its_widths_and_its_depth() -> None:
    """ "a gusset 2¼ in at the top, running down to 8 in", and what live elastic yields."""
    falling = [{"height": "8 in", "amount": "0"}, {"height": "12 in", "amount": "3 1/4"}]
    data = job({"boot": shaft(("4 in", "14 in"), ("16 in", "14 in")), "amounts": falling})
    data["unit"] = "in"
    assert "a panel 3¼ in wide at the top, running down to 8¼ in." in said(data, "would_change")
    hump = [
        {"height": "200", "amount": "0"},
        {"height": "300", "amount": "90"},
        {"height": "350", "amount": "75"},
    ]
    elastic = {"elastic": {"width_mm": 40, "from_mm": 200, "to_mm": 400}}
    expected = (
        "a panel 90 mm at its widest, 75 mm at the top, running down to 205 mm; the elastic gives"
        " another 10 mm of that."
    )
    assert expected in said(job({"amounts": hump}, elastic), "would_change")


def test_sentences_have_no_abbreviations_and_end_once() -> None:
    """Whatever is said in any of the worked examples."""
    for name in "abc":
        whole = answer(example(name))
        for sentence in (*whole["reasons"], *whole["would_change"], *whole["cautions"]):
            assert re.search(r"[.?]$", sentence)
            assert ".." not in sentence
            assert not ABBREVIATIONS.search(sentence)


def test_the_shops_own_limits_take_the_tables_place() -> None:
    """All limits are the shop's choice, editable."""
    narrower = Own((replace(LEATHERS["supple-full-grain"], round=0.02, ceiling=0.04),))
    side = assess(read_job(job(amount("12"))), narrower).as_json()["left"]
    assert side["limits"]["round"] == 0.02  # type: ignore[index]
    assert side["next"]["limited_by"] == "round"  # type: ignore[index]
    assert side["next"]["opening_mm"] == pytest.approx(8.0)  # type: ignore[index]


@pytest.mark.parametrize(
    ("written", "said"),
    [("S2", "on shaper S2"), ("shaper", "on a shaper"), (" Shaper ", "on a shaper")],
)
def test_a_shaper_is_said_once(written: str, said: str) -> None:
    """By its name, and without one where only the word was written."""
    assert words.on_shaper(written) == said
