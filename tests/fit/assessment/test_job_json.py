"""A job that cannot be read is refused with one sentence that names the field; what may be left out
has the defaults of the form.
"""

from __future__ import annotations

import copy

import pytest
from fit.assessment.changed_job import put, refusal
from support.assess_jobs import EXAMPLES, answer, example, job, leg, shaft
from support.wrong_fields import GONE, ROUND, WRONG

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.assess import assess, can_be_answered, read_job


@pytest.mark.parametrize(
    ("path", "value", "field"),
    WRONG,
    ids=[f"{path}-{number}" for number, (path, _, _) in enumerate(WRONG)],
)
def test_a_wrong_field_is_named_with_what_to_write(path: str, value: object, field: str) -> None:
    """One sentence, the field at its start and as an attribute, what was given cut to a decent
    length.
    """
    refused = refusal(put(path, value)())
    assert refused.field == field
    assert refused.sentence.startswith(f"{field}: ")
    assert refused.sentence.endswith(".")
    assert "\n" not in refused.sentence
    assert len(refused.sentence) < 400
    assert refused.typed is None or len(refused.typed) <= 200


def test_the_job_that_the_refusals_start_from_is_read() -> None:
    """Otherwise every refusal above would prove nothing."""
    assert answer(put("max_rounds", 3)())["verdict"] == "none"


@pytest.mark.parametrize(
    "data", [None, True, 1, 1.5, "x", [], [{}], {}, {"unit": "in"}, {1: 2}, {"unit": {}}]
)
def test_what_is_no_job_at_all_is_refused(data: object) -> None:
    """Whatever JSON value it is, and even what JSON cannot hold."""
    assert refusal(data).field


def test_the_sentence_lists_what_may_be_written() -> None:
    """So that the next try succeeds."""
    assert (
        refusal(put("leg.time", "noon")()).sentence
        == "leg.time: write one of morning, midday, evening."
    )
    assert (
        refusal(put("boot.wall_mm", "2")()).sentence == "boot.wall_mm: write a number from 0 to 30."
    )
    assert (
        refusal(put("max_rounds", 9)()).sentence == "max_rounds: write a whole number from 1 to 6."
    )
    assert refusal(put("boot.material", GONE)()).sentence == "boot.material: is missing; write it."
    assert "unit, leg, ease" in refusal(put("extra", 1)()).sentence
    assert '"16 1/4"' in refusal(put("left.boot.0.height", 100)()).sentence
    assert refusal(put("left.boot.0.height", "-3")()).sentence.startswith(
        "left.boot[0].height: a reading is above 0"
    )
    assert '{"mm": 6}' in refusal(put("ease", 6)()).sentence


@pytest.mark.parametrize("key", ["leg", "boot", "gaps", "amounts"])
def test_a_height_given_twice_is_an_error_whatever_its_unit(key: str) -> None:
    """300 mm and 30 cm are the same height; the sentence names both."""
    data = put("max_rounds", 4)()
    first = {**data["left"][key][0], "height": "300"}
    data["left"][key] = [first, {**first, "height": "30 cm"}]
    refused = refusal(data)
    assert refused.field == f"left.{key}[1].height"
    assert f"left.{key}[0].height" in refused.sentence


def test_foot_stations_have_no_height_and_no_twin() -> None:
    """Ball, instep and heel measure are never part of the shaft's profile."""
    foot = [
        {"station": "ball", "girth": ["230"]},
        {"station": "instep", "height": None, "girth": ["240"]},
        {"station": "heel", "height": "0", "girth": ["320"]},
    ]
    data = job({"target": "leg", "leg": foot + leg(("calf", "300", "420"))})
    side = answer(data)["left"]
    assert [entry["leg_mm"] for entry in side["heights"]] == [420.0]
    assert refusal(job({"target": "leg", "leg": foot})).field == "left.leg"


def test_a_station_may_be_none_null_or_left_out() -> None:
    """Any number of further heights."""
    without = {"height": "200", "girth": ["300"]}
    null = {"station": None, "height": "250", "girth": ["350"]}
    side = answer(job({"target": "leg", "leg": [without, null, *leg(("none", "300", "420"))]}))[
        "left"
    ]
    assert all(entry["station"] is None for entry in side["heights"])


def test_heights_below_the_heel_seat_ask_for_the_datum() -> None:
    """A seat or a shaft height that cannot be."""
    low = refusal(job({}, {"heights_from": "ground", "seat_mm": 150}))
    assert (low.field, "boot.seat_mm" in low.sentence) == ("left.boot[0].height", True)
    top = refusal(job({}, {"heights_from": "top-line"}))
    assert (top.field, "boot.shaft_mm" in top.sentence) == ("left.boot[0].height", True)


def test_a_wall_thicker_than_its_boot_is_refused() -> None:
    """An inside girth is above 0."""
    refused = refusal(
        job({"boot": shaft(("100", "100"), ("400", "100"))}, {"method": "outside", "wall_mm": 16})
    )
    assert (refused.field, "boot.wall_mm" in refused.sentence) == ("left.boot[0].girth", True)


def test_leg_and_boot_without_a_shared_height_are_refused() -> None:
    """Never extrapolated."""
    refused = refusal(job({"target": "leg", "leg": leg(("calf", "50", "420"))}))
    assert (refused.field, refused.sentence) == (
        "left.boot",
        "left.boot: shares no height with its leg; read both over the same heights.",
    )


def test_what_may_be_left_out_has_the_defaults_of_the_form() -> None:
    """A bare job answers as one that spells everything out."""
    bare = job(
        {"target": "leg", "leg": leg(("calf", "300", "420"))}, {"zip": {"from_mm": 0, "to_mm": 400}}
    )
    full = copy.deepcopy(bare)
    full["leg"] = {
        "posture": "standing",
        "over": "skin",
        "layer_mm": 0,
        "time": "evening",
        "marked": False,
        "on_block": False,
    }
    full.update(
        ease="close", limits="usual", hold_h=168, max_rounds=4, tree_max_mm=None, records={}
    )
    full["boot"] = {
        "material": "supple-full-grain",
        "lining": "none",
        "age": "sound",
        "signed_off": False,
        "thickness_mm": 1.4,
        "lining_mm": 0.8,
        "wall_mm": 2.2,
        "method": "inside",
        "heights_from": "heel-seat",
        "seat_mm": 0,
        "shaft_mm": 0,
        "rise_mm": 0,
        "zip": {
            "band_mm": 30,
            "from_mm": 0,
            "to_mm": 400,
            "state": "sound",
            "lateral_n_per_25mm": 250,
        },
        "elastic": None,
        "rigid": [],
        "throat_mm": None,
    }
    for side in ("left", "right"):
        full[side].update(gaps=[], amounts=[], heel=None, findings=[], rounds=[], differs={})
        bare[side].pop("amounts")
    assert answer(bare) == answer(full)
    bare["left"]["rounds"] = [dict(ROUND)]
    full["left"]["rounds"] = [
        {**ROUND, "method": "outside", "hold_h": 168, "prepared": "conditioned"}
    ]
    assert answer(bare) == answer(full)


def test_a_boot_that_comes_alone_is_answered_alone() -> None:
    """The other side is null; the verdict is its own."""
    data = job()
    del data["right"]
    whole = assess(read_job(data, ("left",))).as_json()
    assert (whole["right"], whole["verdict"]) == (None, "routine")


@pytest.mark.parametrize("name", ["a", "b", "c"])
def test_what_can_be_answered_is_known_without_the_answer(name: str) -> None:
    """A job that assess answers passes; one whose boot and leg share no height is refused in the
    same words as there.
    """
    data = example(name)
    can_be_answered(read_job(data))
    for place, reading in enumerate(data["left"]["boot"]):
        reading["height"] = f"{700 + 10 * place} mm"
    data["boot"]["heights_from"] = "heel-seat"
    data["left"].pop("differs", None)
    asked = read_job(data)
    with pytest.raises(BadInput) as there:
        assess(asked)
    with pytest.raises(BadInput) as here:
        can_be_answered(asked)
    assert (here.value.field, here.value.sentence) == (there.value.field, there.value.sentence)


def test_the_worked_examples_are_read_from_their_files() -> None:
    """All of them."""
    assert sorted(path.name for path in EXAMPLES.glob("job-*.json")) == [
        "job-a.json",
        "job-b.json",
        "job-c.json",
        "job-d.json",
        "job-e.json",
    ]
    assert read_job(example("a")).unit == "in"
