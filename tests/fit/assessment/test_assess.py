"""The whole computation against worked examples of an independent implementation, its keys, what
limits an opening, and the panel.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from support.assess_jobs import answer, example, expected, job, left

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
