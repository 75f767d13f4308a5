"""What a boot is short by at each height, how sure that is, and where it is tightest, against
arithmetic done by hand.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from support.assess_jobs import job, left, leg, shaft


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
