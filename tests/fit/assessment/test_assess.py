"""The whole computation against worked examples of an independent implementation, and against
arithmetic done by hand.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from support.assess_jobs import answer, example, expected, job, left, leg, shaft

PROBABILITY = 2 / 399


def tolerance(path: str) -> float:
    """By the name of the number: mm, strain and kept fraction, probability."""
    if ".rounds." in path or path.endswith(("within_max", "fits")):
        return PROBABILITY
    last = path.rsplit(".", 1)[-1]
    return 1e-3 if last.endswith("_mm") or "reach_mm" in path else 1e-4


def differences(ours: Any, theirs: Any, path: str = "") -> list[str]:
    """Every place where the answer differs from what is expected; keys that are not expected are
    not compared.
    """
    if isinstance(theirs, dict):
        return [
            line
            for key, value in theirs.items()
            for line in differences(ours[key], value, f"{path}.{key}")
        ]
    if isinstance(theirs, list):
        assert len(ours) == len(theirs)
        return [
            line
            for place, value in enumerate(theirs)
            for line in differences(ours[place], value, f"{path}.{place}")
        ]
    if isinstance(theirs, float) or (isinstance(theirs, int) and isinstance(ours, float)):
        return [] if abs(ours - theirs) <= tolerance(path) else [f"{path}: {ours} for {theirs}"]
    return [] if ours == theirs else [f"{path}: {ours} for {theirs}"]


@pytest.mark.parametrize("name", ["a", "b", "c", "d", "e"])
def test_the_worked_examples_come_out(name: str) -> None:
    """To 1e-3 mm, 1e-4 of strain and kept fraction, 2/399 of each probability."""
    assert differences(answer(example(name)), expected(name)) == []


def test_a_difference_would_be_found() -> None:
    """The comparison can fail."""
    assert differences({"left": {"need_mm": 1.0}}, {"left": {"need_mm": 1.0011}}) != []
    assert differences(
        {"rounds": {"1": 0.5}, "tier": "x"}, {"rounds": {"1": 0.505}, "tier": "y"}
    ) == [".tier: x for y"]


def test_the_answer_has_all_its_keys_whatever_the_tier() -> None:
    """Null where the tier has no number; eight keys of rounds."""
    keys = [
        "tier",
        "heights",
        "worst",
        "limits",
        "kept",
        "next",
        "load",
        "rounds",
        "likely",
        "eight_in_ten",
        "within_max",
        "fits",
        "reach_mm",
        "panel",
        "stop",
        "room",
        "notes",
        "second_look",
        "slips",
    ]
    tiers = {
        "none": job({"amounts": [{"height": "300", "amount": "0"}]}),
        "routine": job({"amounts": [{"height": "300", "amount": "8"}]}),
        "stages": job({"amounts": [{"height": "300", "amount": "55"}]}),
        "repair-first": job({"findings": ["open-seam"]}),
        "panel": job({"amounts": [{"height": "300", "amount": "120"}]}),
        "refuse": job({"findings": ["red-rot"]}),
    }
    for tier, data in tiers.items():
        whole = answer(data)
        assert list(whole) == ["verdict", "reasons", "would_change", "cautions", "left", "right"]
        side = whole["left"]
        assert list(side) == keys
        assert (whole["verdict"], side["tier"]) == (tier, tier)
        nothing = tier in ("none", "refuse")
        assert isinstance(side["notes"], list)
        assert isinstance(side["second_look"], bool)
        for key in ("kept", "next", "load", "within_max", "reach_mm"):
            assert (side[key] is None) is nothing, (tier, key)
        for key in ("likely", "eight_in_ten"):
            assert (side[key] is None) is (nothing or tier == "panel"), (tier, key)
        assert (side["panel"] is not None) is (tier in ("panel", "refuse"))
        if tier == "none":
            assert side["rounds"] == {
                "0": 1.0,
                "1": 0.0,
                "2": 0.0,
                "3": 0.0,
                "4": 0.0,
                "5": 0.0,
                "6": 0.0,
                "more": 0.0,
            }
        elif tier == "refuse":
            assert side["rounds"] is None
        else:
            assert list(side["rounds"]) == ["0", "1", "2", "3", "4", "5", "6", "more"]
            assert sum(side["rounds"].values()) == pytest.approx(1)
            assert len(side["reach_mm"]) == 4
        json.dumps(whole, allow_nan=False)


def test_by_amount_the_need_is_what_was_asked_and_sure() -> None:
    """Straight lines between, nothing beyond, no doubt."""
    amounts = [{"height": "200", "amount": "4"}, {"height": "300", "amount": "10"}]
    side = left(job({"amounts": amounts}))
    heights = side["heights"]
    assert [entry["height_mm"] for entry in heights] == [200.0 + 5 * step for step in range(21)]
    assert [entry["need_mm"] for entry in heights] == pytest.approx(
        [4 + 0.3 * step for step in range(21)]
    )
    assert all(
        (entry["need_u_mm"], entry["leg_mm"], entry["station"]) == (0.0, None, None)
        for entry in heights
    )
    assert side["worst"] == {
        "height_mm": 300.0,
        "need_mm": 10.0,
        "need_in": "7/16",
        "need_u_mm": 0.0,
        "strain": pytest.approx(10 / 400),
        "strain_total": pytest.approx(10 / 400),
    }


def test_by_gap_the_doubt_is_three_millimetres() -> None:
    """Needs no wall, datum or ease."""
    side = left(job({"target": "gap", "gaps": [{"height": "300", "gap": "10"}], "amounts": []}))
    assert (side["worst"]["need_mm"], side["worst"]["need_u_mm"]) == (10.0, 3.0)


Parts = dict[str, Any]


def by_leg(
    leg_terms: Parts, boot: Parts, girths: tuple[str, str] = ("360", "400"), **top: Any
) -> Parts:
    """One leg height and a straight shaft of 400 mm: what reaches the need is one line of
    arithmetic.
    """
    both = {
        "target": "leg",
        "leg": leg(("calf", "300", girths[0])),
        "boot": shaft(("100", girths[1]), ("400", girths[1])),
    }
    return job(both, boot, leg={"marked": True, **leg_terms}, **top)


@pytest.mark.parametrize(
    ("leg_terms", "boot", "top", "need"),
    [
        ({}, {}, {"ease": {"mm": 60}}, 20.0),
        ({}, {}, {"ease": "roomy"}, 360 * 1.05 - 400),
        ({}, {}, {"ease": "snug"}, 360 * 0.98 - 400),
        ({}, {}, {"ease": "easy"}, 360 * 1.025 - 400),
        ({}, {}, {}, -40.0),
        ({"time": "morning"}, {}, {}, 360 * 1.013 - 400),
        ({"time": "midday", "posture": "seated"}, {}, {}, 360 * 0.994 - 400),
        (
            {"layer_mm": 2, "time": "morning"},
            {},
            {"ease": "easy"},
            (360 * 1.013 + 4 * math.pi) * 1.025 - 400,
        ),
        ({}, {"method": "outside", "wall_mm": 3}, {}, 360 - (400 - 6 * math.pi)),
    ],
)
def test_by_leg_the_need_is_leg_and_ease_less_inside_girth(
    leg_terms: Parts, boot: Parts, top: Parts, need: float
) -> None:
    """Share first, then the layer, then ease as a share of that."""
    assert left(by_leg(leg_terms, boot, **top))["worst"]["need_mm"] == pytest.approx(need)


def test_a_shaft_laid_flat_is_two_widths_less_four_walls_and_doubly_doubtful() -> None:
    """r and resolution doubled: u² = (3² + 0) + (2²)/12 for the boot, 2² + 1/12 for the leg."""
    side = left(by_leg({}, {"method": "flat", "wall_mm": 2.5}, girths=("415", "205")))
    assert side["worst"]["need_mm"] == pytest.approx(415 - 400)
    assert side["worst"]["need_u_mm"] == pytest.approx(math.sqrt(4 + 1 / 12 + 9 + 4 / 12))


def test_the_doubt_counts_readings_slope_level_and_the_unit_typed() -> None:
    """Twice-read leg on a slope, level not marked; boot read once in inches."""
    both = {
        "target": "leg",
        "leg": [
            {"height": "200", "girth": ["330"]},
            {"height": "300", "girth": ["418", "420"]},
            {"height": "400", "girth": ["500"]},
        ],
        "boot": [
            {"height": "200", "girth": ["15 in"]},
            {"height": "300", "girth": ["16 in"]},
            {"height": "400", "girth": ["17 in"]},
        ],
    }
    side = left(job(both, leg={"marked": False}))
    at = {entry["height_mm"]: entry for entry in side["heights"]}
    leg_slope, boot_slope = (0.89 + 0.81) / 2, 25.4 / 100
    leg_u2 = 4 / 2 + (leg_slope * 8) ** 2 + 1 / 12
    boot_u2 = 1.5**2 + boot_slope**2 + 1.5875**2 / 12
    assert at[300.0]["need_u_mm"] == pytest.approx(math.sqrt(leg_u2 + boot_u2))
    assert at[250.0]["need_u_mm"] == pytest.approx(
        math.sqrt(4 + (0.89 * 8) ** 2 + 1 / 12 + boot_u2)
    )


def test_heights_are_brought_to_the_heel_seat() -> None:
    """From the ground less the seat; from the top line down; the leg sinks by the heel's pitch
    unless read on a block.
    """
    both = {
        "target": "leg",
        "leg": leg(("calf", "300", "420"), ("small", "150", "240")),
        "boot": shaft(("100", "400"), ("350", "400")),
    }
    ground = left(job(both, {"heights_from": "ground", "seat_mm": 40}))
    assert [entry["height_mm"] for entry in ground["heights"]][:2] == [150.0, 155.0]
    both["boot"] = shaft(("50", "400"), ("300", "380"))
    top = left(job(both, {"heights_from": "top-line", "shaft_mm": 400}))
    assert (top["heights"][-1]["height_mm"], top["heights"][-1]["inside_mm"]) == (300.0, 396.0)
    both["boot"] = shaft(("100", "400"), ("350", "400"))
    pitched = left(job(both, {"rise_mm": 50}))
    assert pitched["heights"][-1]["height_mm"] == pytest.approx(300 - 11.430, abs=5e-4)
    assert (pitched["heights"][-1]["station"], pitched["heights"][0]["station"]) == (
        "calf",
        "small",
    )
    blocked = left(job(both, {"rise_mm": 50}, leg={"on_block": True}))
    assert blocked["heights"][-1]["height_mm"] == 300.0


def test_leather_is_what_the_strips_leave_at_each_height() -> None:
    """Zip, elastic and rigid strips, each over its own heights."""
    boot = {
        "zip": {"band_mm": 28, "from_mm": 60, "to_mm": 250},
        "elastic": {"width_mm": 40, "from_mm": 240, "to_mm": 300},
        "rigid": [{"name": "backstay", "width_mm": 22, "from_mm": 0, "to_mm": 400}],
    }
    amounts = [{"height": "230", "amount": "5"}, {"height": "320", "amount": "5"}]
    leather = {
        entry["height_mm"]: entry["leather_mm"]
        for entry in left(job({"amounts": amounts}, boot))["heights"]
    }
    assert [leather[height] for height in (230, 240, 250, 255, 300, 305)] == [
        350,
        310,
        310,
        338,
        338,
        378,
    ]


def test_the_tightest_place_is_a_share_of_the_leather_and_the_lower_one_on_a_tie() -> None:
    """Not the largest need: the elastic takes leather away lower down."""
    amounts = [{"height": "200", "amount": "9"}, {"height": "300", "amount": "10"}]
    assert (
        left(
            job({"amounts": amounts}, {"elastic": {"width_mm": 100, "from_mm": 100, "to_mm": 220}})
        )["worst"]["height_mm"]
        == 220.0
    )
    even = [{"height": "200", "amount": "9"}, {"height": "300", "amount": "9"}]
    assert left(job({"amounts": even}))["worst"]["height_mm"] == 200.0
    falling = [{"height": "200", "amount": "2"}, {"height": "300", "amount": "1"}]
    assert left(job({"amounts": falling}))["worst"]["height_mm"] == 200.0


def test_an_eighth_of_an_inch_is_not_short_and_a_hair_more_is() -> None:
    """Tolerance 3.175 mm everywhere, compared unrounded."""
    for typed, tier in (("1/8 in", "none"), ("3.175", "none"), ("3.2", "routine")):
        assert left(job({"amounts": [{"height": "300", "amount": typed}]}))["tier"] == tier


def a_round(before: str, on_tree: str, rested: str | None, **more: Any) -> dict[str, Any]:
    return {"before": before, "on_tree": on_tree, "rested": rested, **more}


def test_rounds_raise_the_girth_where_it_was_short_in_proportion() -> None:
    """At other heights by their share of the first need, nothing where there was none; strain_total
    counts from the first.
    """
    amounts = [{"height": "200", "amount": "0"}, {"height": "300", "amount": "20"}]
    side = left(job({"amounts": amounts, "rounds": [a_round("420", "440", "428")]}))
    at = {entry["height_mm"]: entry for entry in side["heights"]}
    assert [at[height]["need_mm"] for height in (200.0, 250.0, 300.0)] == pytest.approx(
        [0, 10 - 4, 20 - 8]
    )
    assert [at[height]["inside_mm"] for height in (200.0, 250.0, 300.0)] == pytest.approx(
        [400, 404, 408]
    )
    assert side["worst"]["strain"] == pytest.approx(12 / 400)
    assert side["worst"]["strain_total"] == pytest.approx(20 / 400)
    assert side["kept"]["rounds"] == 1
    assert side["next"]["girth_mm"] == pytest.approx(408 + side["next"]["opening_mm"])


def test_a_boot_that_was_never_short_grows_at_its_own_place_only() -> None:
    """clamp(need0(h)/need0(tightest0)) is 0 where the need is below 0."""
    amounts = [{"height": "200", "amount": "1"}, {"height": "300", "amount": "0"}]
    side = left(job({"amounts": amounts, "rounds": [a_round("400", "420", "406")]}))
    at = {entry["height_mm"]: entry["inside_mm"] for entry in side["heights"]}
    assert (at[200.0], at[300.0]) == (406.0, 400.0)


def test_a_running_round_is_the_next_opening() -> None:
    """limited_by running, with its own hold and preparation; it tells nothing of what is kept
    yet.
    """
    rounds = [a_round("400", "414", "407"), a_round("406", "418", None, hold_h=48, prepared="dry")]
    side = left(job({"amounts": [{"height": "300", "amount": "25"}], "rounds": rounds}))
    kept = (side["kept"]["mean"] + 0.12 * math.log10(2)) * 0.6 * 0.95
    assert side["next"]["limited_by"] == "running"
    assert (side["next"]["opening_mm"], side["next"]["girth_mm"]) == pytest.approx(
        (12.0, 407 + 12.0)
    )
    assert side["next"]["expected_gain_mm"] == pytest.approx(12 * kept)
    assert side["reach_mm"][0] == pytest.approx(12 * kept)
    assert side["kept"]["rounds"] == 1
    assert side["load"]["strain"] == pytest.approx(12 / 407)


def test_records_take_the_tables_place() -> None:
    """Mean and sd of the shop's own, and on how many boots they stand."""
    side = left(
        job(
            records={
                "supple-full-grain": {"mean": 0.4, "sd": 0.1, "boots": 14},
                "goat": {"mean": 0.9, "sd": 0.1, "boots": 3},
            }
        )
    )
    assert side["kept"] == {
        "mean": pytest.approx(0.4),
        "sd": pytest.approx(0.1),
        "rounds": 0,
        "boots": 14,
        "other_rounds": 0,
    }


def test_a_short_tree_a_weak_zip_and_weak_seams_limit_the_opening() -> None:
    """Each by its own name."""
    more = {"amounts": [{"height": "300", "amount": "30"}]}
    assert left(job(more, tree_max_mm=410))["next"] == {
        "girth_mm": 410.0,
        "opening_mm": 10.0,
        "limited_by": "tree",
        "expected_gain_mm": pytest.approx(10 * (0.5 + 0.12 * math.log10(7))),
    }
    zipped = {"zip": {"band_mm": 30, "from_mm": 0, "to_mm": 400, "lateral_n_per_25mm": 60}}
    side = left(job(more, zipped))
    assert (side["next"]["limited_by"], side["load"]["zip"]) == ("zip", "watch")
    assert side["load"]["tension_n_per_mm"] == pytest.approx(60 / 25 / 3)
    elsewhere = {"zip": {**zipped["zip"], "to_mm": 290}}
    assert left(job(more, elsewhere))["load"]["zip"] is None
    thick = left(job(more, {"thickness_mm": 12}))
    assert (thick["next"]["limited_by"], thick["load"]["seam"]) == ("seam", "watch")
    assert thick["load"]["tension_n_per_mm"] == pytest.approx(10 / 3)


def test_panel_numbers_say_how_wide_and_how_far_down() -> None:
    """From the tightest place down while the need stays over the tolerance; elastic at the tightest
    place.
    """
    amounts = [
        {"height": "200", "amount": "0"},
        {"height": "300", "amount": "90"},
        {"height": "350", "amount": "75"},
    ]
    side = left(
        job({"amounts": amounts}, {"elastic": {"width_mm": 40, "from_mm": 200, "to_mm": 400}})
    )
    assert side["tier"] == "panel"
    assert side["panel"] == {
        "top_mm": 75.0,
        "widest_mm": 90.0,
        "down_to_mm": 205.0,
        "elastic_give_mm": 10.0,
        "open_below": False,
    }
    island = [
        {"height": "150", "amount": "30"},
        {"height": "200", "amount": "0"},
        {"height": "300", "amount": "90"},
    ]
    panel = left(job({"amounts": island}))["panel"]
    assert (panel["down_to_mm"], panel["elastic_give_mm"]) == (205.0, 0.0)
    deep = [{"height": "150", "amount": "70"}, {"height": "300", "amount": "90"}]
    panel = left(job({"amounts": deep}))["panel"]
    assert (panel["down_to_mm"], panel["open_below"]) == (150.0, True)


def test_what_differs_on_one_side_changes_that_side_alone() -> None:
    """Keys of the boot, whole."""
    data = job()
    data["right"]["differs"] = {"material": "goat", "zip": {"from_mm": 0, "to_mm": 400}}
    whole = answer(data)
    assert whole["left"]["limits"]["ceiling"] == 0.17
    assert whole["right"]["limits"]["ceiling"] == 0.09
    assert (whole["left"]["load"]["zip"], whole["right"]["load"]["zip"]) == (None, "ok")


def test_a_leg_in_a_gap_job_is_shown_and_decides_nothing() -> None:
    """It serves the cross-check only."""
    gaps = {
        "target": "gap",
        "amounts": [],
        "gaps": [{"height": "200", "gap": "5"}, {"height": "300", "gap": "9"}],
    }
    with_leg = left(job({**gaps, "leg": leg(("small", "220", "240"), ("calf", "290", "420"))}))
    assert with_leg["worst"] == left(job(gaps))["worst"]
    at = {entry["height_mm"]: entry["leg_mm"] for entry in with_leg["heights"]}
    assert (at[215.0], at[220.0], at[290.0], at[295.0]) == (None, 240.0, 420.0, None)
