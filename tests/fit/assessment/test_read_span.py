"""Whether a boot was read as far as the leg, the gaps or the amounts."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import job, left, leg

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.assess import assess, can_be_answered, read_job


def by_leg(highest: str, boot: dict[str, Any] | None = None, lowest: str = "100") -> dict[str, Any]:
    """A boot read from 100 to 400 mm against a leg read up to a height."""
    both = {"target": "leg", "leg": leg(("none", lowest, "400"), ("none", highest, "415"))}
    return job(both, boot)


def refused(data: dict[str, Any]) -> BadInput:
    for ask in (assess, can_be_answered):
        with pytest.raises(BadInput) as found:
            ask(read_job(data))
    return found.value


@pytest.mark.parametrize("highest", ["405", "400", "350"])
def test_a_boot_read_to_within_five_millimetres_of_the_leg_is_read_far_enough(highest: str) -> None:
    """No note, no question."""
    assert left(by_leg(highest))["notes"] == []


def test_a_leg_read_higher_than_the_boot_is_refused_with_both_ways_out() -> None:
    """The height, the side, and what to do."""
    found = refused(by_leg("405.1"))
    assert found.field == "left.boot"
    for part in ("left.boot", "405 mm", "only to 400 mm", "measure the left boot", "boot.top_mm"):
        assert part in found.sentence
    data = by_leg("390")
    data["right"]["leg"] = leg(("none", "100", "400"), ("none", "450", "415"))
    assert refused(data).field == "right.boot"


@pytest.mark.parametrize(
    ("top", "answered"), [(400, True), (404, True), (449.9, False), (425, True), (426, False)]
)
def test_a_boot_that_ends_below_the_leg_and_was_read_to_its_top_is_answered(
    top: float, answered: bool
) -> None:
    """The top lies under every reading above the boot, and within an inch of what was read."""
    data = by_leg("450", {"top_mm": top})
    if answered:
        side = left(data)
        assert side["notes"] == ["not-above"]
        assert side["heights"][-1]["height_mm"] == 400
    else:
        assert "boot.top_mm" in refused(data).sentence


def test_a_shaft_height_says_the_top_too() -> None:
    """top_mm wins where both are given; 0 is not known."""
    assert left(by_leg("450", {"shaft_mm": 410}))["notes"] == ["not-above"]
    assert refused(by_leg("450", {"shaft_mm": 0})).field == "left.boot"
    assert refused(by_leg("450", {"shaft_mm": 410, "top_mm": 430})).field == "left.boot"


def test_a_top_at_the_height_of_the_reading_is_no_way_out() -> None:
    """T < h for every such h."""
    assert refused(by_leg("410", {"top_mm": 410})).field == "left.boot"
    assert left(by_leg("410", {"top_mm": 409.9}))["notes"] == ["not-above"]


def test_a_top_below_the_boots_own_reading_is_refused() -> None:
    """Which of the two is wrong is asked."""
    found = refused(by_leg("390", {"top_mm": 399}))
    assert (found.field, "400 mm" in found.sentence) == ("boot.top_mm", True)


def test_what_is_read_above_the_top_still_shapes_the_profile_below() -> None:
    """The leg's curve goes on to its own highest reading."""
    near, far = (
        left(by_leg(height, {"top_mm": 401}))["heights"][-1]["leg_mm"] for height in ("405", "450")
    )
    assert near > far > 400


def test_a_target_read_lower_than_the_boot_is_a_note() -> None:
    """By more than five millimetres."""
    assert left(by_leg("390", None, "94.9"))["notes"] == ["not-below"]
    assert left(by_leg("390", None, "95"))["notes"] == []
    assert left(by_leg("450", {"top_mm": 401}, "50"))["notes"] == ["not-above", "not-below"]


@pytest.mark.parametrize(
    ("target", "key", "words"), [("gap", "gap", "the gap"), ("amount", "amount", "an amount")]
)
def test_gaps_and_amounts_are_held_to_it_too(target: str, key: str, words: str) -> None:
    """In their own words; a refused boot carries the notes of its span."""
    rows = [{"height": "300", key: "10"}, {"height": "450", key: "10"}]
    data = job({"target": target, f"{key}s": rows, **({} if key == "amount" else {"amounts": []})})
    assert words in refused(data).sentence
    data["boot"]["top_mm"] = 410
    data["left"]["findings"] = ["red-rot"]
    side = left(data)
    assert (side["tier"], side["notes"]) == ("refuse", ["not-above"])


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(("target", "said"), [
    ("leg", "the leg is read up to 450 mm"),
    ("gap", "the gap is read up to 450 mm"),
    ("amount", "an amount is asked up to 450 mm"),
])  # fmt: skip
def test_a_target_above_the_boot_is_refused_by_height_side_and_both_ways_out(
    side: str, target: str, said: str
) -> None:
    """Whatever the boot is held against, on either side."""
    data = job()
    if target == "leg":
        high: dict[str, Any] = {"leg": leg(("none", "100", "400"), ("none", "450", "415"))}
    else:
        high = {f"{target}s": [{"height": "300", target: "10"}, {"height": "450", target: "10"}]}
    data[side].update({"target": target, **high})
    found = refused(data)
    assert (found.field, found.sentence) == (
        f"{side}.boot",
        f"{side}.boot: {said}, this boot only to 400 mm: measure the {side} boot at 450 mm too,"
        " or say that it ends below that (boot.top_mm), read to within an inch of its top.",
    )


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_top_that_differs_on_one_side_is_named_as_the_boots_top_with_the_side(side: str) -> None:
    """Under `differs` too the refusal's field is boot.top_mm; the sentence says which boot, where
    it was read, and both ways out.
    """
    data = by_leg("390")
    data[side]["differs"] = {"top_mm": 399}
    found = refused(data)
    assert (found.field, found.sentence) == (
        "boot.top_mm",
        f"boot.top_mm: the {side} boot was read at 400 mm, above the top line given here;"
        " write the top line again, or that reading.",
    )


def test_the_pitch_lowers_the_leg_before_it_is_compared() -> None:
    """411 mm on the floor is 399.6 in a boot with 50 mm of rise."""
    assert left(by_leg("411", {"rise_mm": 50}, "120"))["notes"] == []
