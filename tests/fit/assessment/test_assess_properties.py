"""What must hold for any job: more leg needs more, more room needs less, no finding helps, sides
swap, same in, same out.
"""

from __future__ import annotations

import copy
import json
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from support.assess_jobs import answer

from fitcounter.fit.assessment.verdict import TIERS

EASES = ("snug", "close", "easy", "roomy")
MATERIALS = (
    "supple-full-grain",
    "full-grain",
    "firm-full-grain",
    "sheep",
    "unknown",
    "exotic",
    "coated",
)
HEIGHTS = (110, 175, 240, 305, 360)
few = settings(derandomize=True, deadline=None, max_examples=25)


@st.composite
def readings(draw: st.DrawFn, base: tuple[int, ...]) -> list[dict[str, Any]]:
    girths = [str(girth + draw(st.integers(-12, 12))) for girth in base]
    return [
        {"height": str(height), "girth": [girth]}
        for height, girth in zip(HEIGHTS, girths, strict=True)
    ]


@st.composite
def sides(draw: st.DrawFn) -> dict[str, Any]:
    side: dict[str, Any] = {
        "target": "leg",
        "leg": draw(readings((224, 260, 322, 372, 356))),
        "boot": draw(readings((245, 268, 318, 352, 348))),
        "findings": draw(
            st.lists(
                st.sampled_from(["open-seam", "prior-stretch", "scuffs", "red-rot"]),
                max_size=2,
                unique=True,
            )
        ),
    }
    if draw(st.booleans()):
        before = draw(st.integers(340, 360))
        rested = draw(st.one_of(st.none(), st.integers(before + 1, before + 12)))
        side["rounds"] = [
            {
                "before": str(before),
                "on_tree": str(before + draw(st.integers(13, 24))),
                "rested": rested and str(rested),
            }
        ]
    return side


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    zipped = draw(
        st.sampled_from(
            [None, {"from_mm": 60, "to_mm": 400}, {"from_mm": 60, "to_mm": 400, "state": "damaged"}]
        )
    )
    return {
        "unit": "mm",
        "leg": {
            "time": draw(st.sampled_from(["morning", "midday", "evening"])),
            "marked": draw(st.booleans()),
        },
        "ease": draw(st.sampled_from(EASES)),
        "limits": draw(st.sampled_from(["usual", "careful"])),
        "boot": {
            "material": draw(st.sampled_from(MATERIALS)),
            "zip": zipped,
            "rise_mm": draw(st.sampled_from([0, 25])),
        },
        "left": draw(sides()),
        "right": draw(sides()),
        "max_rounds": draw(st.integers(1, 6)),
    }


def weight(side: dict[str, Any]) -> int:
    return TIERS.index(side["tier"])


def mean_rounds(side: dict[str, Any]) -> float:
    """Expected further rounds, seven standing for more than six."""
    return sum(share * (7 if key == "more" else int(key)) for key, share in side["rounds"].items())


@few
@given(jobs())
def test_the_same_job_gives_the_same_bytes(data: dict[str, Any]) -> None:
    """To the last digit, and without touching what it was given."""
    before = json.dumps(data)
    assert json.dumps(answer(data)) == json.dumps(answer(copy.deepcopy(data)))
    assert json.dumps(data) == before


@few
@given(jobs())
def test_left_and_right_swapped_swap_the_answer(data: dict[str, Any]) -> None:
    """No side is favoured; only questions about both name a side."""
    swapped = {**data, "left": data["right"], "right": data["left"]}
    ours, theirs = answer(data), answer(swapped)
    assert ours["verdict"] == theirs["verdict"]
    for one, other in (("left", "right"), ("right", "left")):
        assert {key: value for key, value in ours[one].items() if key != "slips"} == {
            key: value for key, value in theirs[other].items() if key != "slips"
        }


@few
@given(jobs(), st.integers(1, 15))
def test_need_grows_with_leg_girth_and_falls_with_boot_girth_everywhere(
    data: dict[str, Any], more: int
) -> None:
    """A leg fuller by so much all the way up needs as much more and a share for ease; a boot wider
    by it, as much less.
    """
    now = needs(data)
    fuller = needs(changed(data, "leg", HEIGHTS, more))
    wider = needs(changed(data, "boot", HEIGHTS, more))
    for height, need in now.items():
        assert 0.97 * more <= fuller[height] - need <= 1.07 * more
        assert abs(need - wider[height] - more) < 1e-9


@few
@given(jobs(), st.sampled_from(HEIGHTS), st.integers(1, 15))
def test_one_reading_moves_the_need_at_its_own_height_and_at_no_other_reading(
    data: dict[str, Any], at: int, more: int
) -> None:
    """Between readings the curve may swing a little either way; at the readings it may not."""
    data["boot"]["rise_mm"] = 0
    now, fuller, wider = (
        needs(data),
        needs(changed(data, "leg", (at,), more)),
        needs(changed(data, "boot", (at,), more)),
    )
    for height in HEIGHTS:
        grown, fallen = fuller[height] - now[height], now[height] - wider[height]
        if height == at:
            assert 0.97 * more <= grown <= 1.07 * more
            assert abs(fallen - more) < 1e-9
        else:
            assert abs(grown) < 1e-9
            assert abs(fallen) < 1e-9


def changed(data: dict[str, Any], what: str, heights: tuple[int, ...], more: int) -> dict[str, Any]:
    """The readings at those heights are larger."""
    other = copy.deepcopy(data)
    for reading in other["left"][what]:
        if int(reading["height"]) in heights:
            reading["girth"] = [str(int(reading["girth"][0]) + more)]
    return other


def without_rounds(data: dict[str, Any]) -> dict[str, Any]:
    other = copy.deepcopy(data)
    other["left"].pop("rounds", None)
    return other


def needs(data: dict[str, Any]) -> dict[float, float]:
    """Need by height, rounds left out."""
    return {
        place["height_mm"]: place["need_mm"]
        for place in answer(without_rounds(data))["left"]["heights"]
    }


@few
@given(jobs())
def test_more_ease_never_shortens_the_forecast(data: dict[str, Any]) -> None:
    """Rounds expected at the tightest place rise or stay with ease, where both answers have a
    forecast at one place.
    """
    data = without_rounds(data)
    found = [answer({**data, "ease": ease})["left"] for ease in EASES]
    for snug, roomy in pairwise(found):
        if (
            snug["rounds"]
            and roomy["rounds"]
            and snug["worst"]["height_mm"] == roomy["worst"]["height_mm"]
        ):
            assert mean_rounds(roomy) >= mean_rounds(snug) - 1e-9
        assert (snug["tier"] == "none") or (roomy["tier"] != "none")


@few
@given(
    jobs(),
    st.sampled_from(
        [
            "open-seam",
            "prior-stretch",
            "red-rot",
            "cracked-grain",
            "cracked-finish",
            "delaminated",
            "scuffs",
        ]
    ),
)
def test_the_answer_never_improves_when_a_finding_is_added(
    data: dict[str, Any], finding: str
) -> None:
    """Tier by tier."""
    worse = copy.deepcopy(data)
    worse["left"]["findings"] = [*worse["left"]["findings"], finding]
    assert weight(answer(worse)["left"]) >= weight(answer(data)["left"])


@few
@given(jobs())
def test_careful_never_opens_further_than_usual(data: dict[str, Any]) -> None:
    """Half of round and ceiling."""
    usual, careful = (answer({**data, "limits": dial})["left"] for dial in ("usual", "careful"))
    assert careful["limits"]["round"] <= usual["limits"]["round"]
    if usual["next"] and careful["next"]:
        assert careful["next"]["opening_mm"] <= usual["next"]["opening_mm"] + 1e-9


@few
@given(jobs())
def test_an_opening_never_passes_a_limit(data: dict[str, Any]) -> None:
    """Round and ceiling of the leather, and hold here of zip and seams, unless it is running
    already.
    """
    for side in (answer(data)[name] for name in ("left", "right")):
        if side["next"] is None or side["next"]["limited_by"] == "running":
            continue
        assert side["load"]["strain"] <= side["limits"]["round"] + 1e-9
        assert side["load"]["zip"] != "hold"
        assert side["load"]["seam"] != "hold"
        assert side["next"]["opening_mm"] >= 0


@few
@given(jobs())
def test_the_pair_takes_the_heavier_tier(data: dict[str, Any]) -> None:
    """none < routine < stages < repair-first < panel < refuse."""
    found = answer(data)
    assert TIERS.index(found["verdict"]) == max(weight(found["left"]), weight(found["right"]))
