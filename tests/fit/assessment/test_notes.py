"""What is said beside an answer, each as a code: where it begins and where it does not hold."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import job, left, leg


def notes(data: dict[str, Any]) -> list[str]:
    found: list[str] = left(data)["notes"]
    return found


def amount(mm: str, height: str = "300", **more: Any) -> dict[str, Any]:
    return {"amounts": [{"height": height, "amount": mm}], **more}


def gap(mm: str) -> dict[str, Any]:
    return {"target": "gap", "amounts": [], "gaps": [{"height": "300", "gap": mm}]}


@pytest.mark.parametrize(("mm", "said"), [("3.175", True), ("1", True), ("0", False), ("4", False)])
def test_a_gap_that_is_left_nearly_closes(mm: str, said: bool) -> None:
    """Nothing short, but a gap at the tightest place; by gap alone."""
    assert ("nearly-closes" in notes(job(gap(mm)))) is said
    assert "nearly-closes" not in notes(job(amount("3")))


@pytest.mark.parametrize(("mm", "said"), [("7.9", True), ("8", False), ("12", False)])
def test_under_two_per_cent_mostly_springs_back(mm: str, said: bool) -> None:
    """Of 400 mm of leather, counted from the boot as first brought in."""
    assert ("springs-back" in notes(job(amount(mm)))) is said


def test_what_has_grown_counts_as_stretch_too() -> None:
    """12 mm asked, 7 gained: 5 left, but 12 in all."""
    data = job(amount("12"))
    data["left"]["rounds"] = [{"before": "400", "on_tree": "415", "rested": "407"}]
    assert "springs-back" not in notes(data)


@pytest.mark.parametrize(("height", "said"), [("149.9", True), ("150", False)])
def test_few_trees_open_low_on_the_shaft(height: str, said: bool) -> None:
    """Under 150 mm."""
    assert ("low-place" in notes(job(amount("20", height)))) is said
    assert notes(job(amount("2", height))) == []


@pytest.mark.parametrize(("width", "said"), [(40, True), (27.2, False), (0, False)])
def test_elastic_that_covers_the_need_is_tried_first(width: float, said: bool) -> None:
    """A quarter of its width, at every short height; by leg only."""
    both = {"target": "leg", "leg": leg(("calf", "300", "410"))}
    elastic = {"elastic": {"width_mm": width, "from_mm": 250, "to_mm": 350}}
    assert ("elastic-first" in notes(job(both, elastic))) is said
    assert "elastic-first" not in notes(job(amount("10"), elastic))
    below = {"elastic": {"width_mm": width, "from_mm": 100, "to_mm": 299}}
    assert "elastic-first" not in notes(job(both, below))


def read_once(rested: str | list[str], method: str = "outside") -> list[dict[str, Any]]:
    return [{"before": "400", "on_tree": "424", "rested": rested, "method": method}]


@pytest.mark.parametrize(
    ("need", "rested", "said"),
    [
        ("16", "410", True),  # 6 left: 2.825 from the tolerance
        ("16.2", "410", False),  # 6.2 left: 3.025
        ("10.2", "410", True),  # 0.2 left: done, but a second reading could say not
        ("10.1", "410", False),
        ("16", ["410", "410"], False),
    ],
)
def test_a_second_rested_reading_is_asked_for_near_the_limit(
    need: str, rested: str | list[str], said: bool
) -> None:
    """Within twice 1.5 mm of the tolerance, where it was read once."""
    data = job(amount(need))
    data["left"]["rounds"] = read_once(rested)
    assert ("rested-again" in notes(data)) is said


def test_flat_readings_are_twice_as_unsure() -> None:
    """A width of 205 from 200 is ten millimetres: need 18 leaves 8, within twice 3 mm."""
    data = job(amount("18"))
    data["left"]["rounds"] = [
        {"before": "200", "on_tree": "212", "rested": "205", "method": "flat"}
    ]
    assert "rested-again" in notes(data)
    data["left"]["rounds"] = read_once("410")
    assert "rested-again" not in notes(data)


def test_a_running_round_asks_for_no_second_reading() -> None:
    """There is none yet."""
    data = job(amount("3.5"))
    data["left"]["rounds"] = read_once("410")
    data["left"]["rounds"][0]["rested"] = None
    assert "rested-again" not in notes(data)


def test_a_refused_boot_has_no_note_of_stretching() -> None:
    """Only those of what was read."""
    assert notes(job(amount("5", "120", findings=["red-rot"]))) == []


@pytest.mark.parametrize(
    ("amounts", "room"),
    [
        ((("200", "0"), ("300", "10")), None),
        ((("200", "-"), ("300", "10")), (10.0, 100.0, False)),
    ],
)
def test_room_is_told_where_a_boot_is_too_wide(
    amounts: tuple[tuple[str, str], ...], room: tuple[float, float, bool] | None
) -> None:
    """By the tolerance at least, at the lower height on a tie; by leg, as amounts cannot be less
    than nothing.
    """
    if room is None:
        data = job({"amounts": [{"height": h, "amount": mm} for h, mm in amounts]})
        assert left(data)["room"] is None
        return
    both = {"target": "leg", "leg": leg(("small", "100", "390"), ("none", "200", "390"))}
    both["leg"] += leg(("calf", "300", "410"))
    found = left(job(both, None))["room"]
    assert (found["most_mm"], found["height_mm"], found["everywhere"]) == room


def test_room_everywhere_is_everywhere() -> None:
    """And exactly the tolerance is room."""
    both = {"target": "leg", "leg": leg(("none", "200", "396.825"), ("none", "300", "396.825"))}
    assert left(job(both))["room"] == {
        "most_mm": pytest.approx(3.175),
        "height_mm": 200.0,
        "everywhere": True,
    }
    both = {"target": "leg", "leg": leg(("none", "200", "396.83"), ("none", "300", "396.83"))}
    assert left(job(both))["room"] is None
