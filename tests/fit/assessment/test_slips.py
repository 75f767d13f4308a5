"""Slips and "once more, please": asked where they should be, never where they should not, and never
in the way.
"""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import answer, example, job, shaft
from support.sound_pair import SOUND, Girths, pair


def asked(data: dict[str, Any], side: str = "left") -> list[tuple[str, str]]:
    """Where and what, without the offer of second readings."""
    slips = answer(data)[side]["slips"]
    return [
        (slip["where"], slip["question"])
        for slip in slips
        if "could change the answer" not in slip["question"]
    ]


def test_a_sound_pair_is_asked_nothing() -> None:
    """Left before right."""
    assert asked(pair(*SOUND)) == []
    assert asked(example("a")) == asked(example("a"), "right") == []


@pytest.mark.parametrize(
    ("typed", "unit", "question"),
    [
        ("16", "cm", "16.0 cm: inches?"),
        ("11", "cm", "11.0 cm: inches?"),
        ("17.4", "cm", "17.4 cm: inches?"),
        ("29", "in", "29 in: centimeters?"),
        ("41", "in", "41 in: centimeters?"),
        ("50", "in", "50 in: centimeters?"),
    ],
)
def test_a_value_that_is_ordinary_in_the_other_unit_is_asked(
    typed: str, unit: str, question: str
) -> None:
    """11 to 22 of centimetres, 29 to 50 of inches, where it is no girth as it stands."""
    data = pair(*SOUND)
    data["unit"] = unit
    for side in ("left", "right"):
        for reading in data[side]["leg"]:
            reading["height"] += " mm"
            reading["girth"] = [girth + " mm" for girth in reading["girth"]]
    data["left"]["leg"].append({"height": "200 mm", "girth": [typed]})
    assert ("left leg, 200 mm", question) in asked(data)


@pytest.mark.parametrize(
    "typed", ["17.5 cm", "22 cm", "10.9 cm", "27 in", "160 mm", "1000 mm", "51 in"]
)
def test_other_values_are_not_taken_for_the_other_unit(typed: str) -> None:
    """An ordinary small of the leg in centimetres is no slip; millimetres have no twin."""
    data = pair(*SOUND)
    data["left"]["leg"].append({"height": "200", "girth": [typed]})
    assert not any(question.endswith(("inches?", "centimeters?")) for _, question in asked(data))


def test_a_shaft_laid_flat_is_not_taken_for_inches() -> None:
    """A width of 17 cm is ordinary."""
    data = job({"boot": shaft(("100", "17 cm"), ("400", "17 cm"))}, {"method": "flat"})
    assert asked(data) == []
    data["boot"]["method"] = "inside"
    assert [question for _, question in asked(data)] == ["17.0 cm: inches?", "17.0 cm: inches?"]


def test_heights_that_go_up_and_down_are_asked_and_falling_ones_are_not() -> None:
    """Down from the top line is a proper order too."""
    data = pair(*reversed(SOUND))
    assert asked(data) == []
    legs = data["left"]["leg"]
    legs[0], legs[1] = legs[1], legs[0]
    assert asked(data) == [
        ("left leg", "The heights go up and down: is each girth at its own height?")
    ]
    boots = data["right"]["boot"]
    boots[0], boots[1] = boots[1], boots[0]
    assert [where for where, _ in asked(data, "right")] == ["right boot"]


def test_left_copied_from_right_is_asked_of_legs_and_not_of_boots() -> None:
    """From three heights on; two boots of a pair are alike."""
    rows = [(station, height, girths, girths) for station, height, girths, _ in SOUND]
    assert asked(pair(*rows), "right") == [
        ("both legs", "Left and right read the same everywhere: was one copied from the other?")
    ]
    assert asked(pair(*rows), "left") == []
    assert asked(pair(*rows[:2]), "right") == []
    rows[3] = (*rows[3][:3], ("366",))
    assert asked(pair(*rows), "right") == []


def test_just_an_inch_off_the_other_side_is_asked() -> None:
    """Where the sides are alike elsewhere; and it is not asked a second time as a plain
    difference.
    """
    rows = [*SOUND[:2], ("rise", "240", ("350",), ("324",)), SOUND[3]]
    found = asked(pair(*rows))
    assert ("both legs, 240 mm", "Please measure again: they are one inch apart there.") in found
    assert not any("differ by" in question for _, question in found)
    boots = pair(*SOUND)
    boots["right"]["boot"][1]["girth"] = ["574"]
    assert asked(boots) == [
        ("both boots, 160 mm", "Please measure again: they are one inch apart there.")
    ]


@pytest.mark.parametrize("rise", ["342", "356"])
def test_other_differences_of_the_sides_are_not_taken_for_an_inch(rise: str) -> None:
    """18 or 32 mm apart are a plain difference."""
    rows = [*SOUND[:2], ("rise", "240", (rise,), ("324",)), SOUND[3]]
    assert (
        "both legs, 240 mm",
        f"Please measure again: left and right differ by {int(rise) - 324} mm.",
    ) in asked(pair(*rows))


def test_sides_that_differ_everywhere_are_not_an_inch_slip() -> None:
    """One leg an inch fuller all the way is a leg, not a slip; and two heights alone tell
    nothing.
    """
    rows = [
        (station, height, (str(int(right[0]) + 25),), right) for station, height, _, right in SOUND
    ]
    assert all("one inch apart" not in question for _, question in asked(pair(*rows)))
    two = [SOUND[0], ("calf", "300", ("393",), ("368",))]
    assert all("one inch apart" not in question for _, question in asked(pair(*two)))


def test_a_reading_just_an_inch_off_its_neighbours_is_asked() -> None:
    """Neither the fullest nor the smallest place, which must stand out."""
    rows = [
        SOUND[0],
        ("achilles", "170", ("300",), ("300",)),
        ("none", "200", ("286",), ("286",)),
        SOUND[2],
        SOUND[3],
    ]
    found = [where for where, question in asked(pair(*rows)) if "off the heights" in question]
    assert found == ["left leg, 200 mm"]
    boots = pair(*SOUND)
    boots["left"]["boot"] = shaft(
        ("100", "604"), ("160", "606"), ("230", "586"), ("290", "618"), ("300", "575")
    )
    assert [where for where, question in asked(boots) if "off the heights" in question] == [
        "left boot, 230 mm"
    ]


@pytest.mark.parametrize(
    ("station", "girths", "asks"),
    [
        ("calf", ("360", "365"), False),
        ("calf", ("360", "365.1"), True),
        ("calf", ("360", "370", "365"), False),
        ("calf", ("360", "372", "366"), True),
        ("small", ("230", "233.2"), False),
        ("small", ("230", "233.3"), True),
        ("calf", ("360",), False),
    ],
)
def test_readings_that_disagree_ask_for_a_further_one(
    station: str, girths: Girths, asks: bool
) -> None:
    """5 mm on a leg, 3.2 at its small; never refused."""
    rows = [(station, "240", girths, ("365",))]
    assert any("the readings differ" in question for _, question in asked(pair(*rows))) is asks


def test_a_boot_is_read_to_an_eighth_of_an_inch() -> None:
    """3.2 mm, as at the small of the leg."""
    for second, asks in (("403.2", False), ("403.3", True)):
        data = job(
            {
                "boot": [
                    {"height": "100", "girth": ["400", second]},
                    {"height": "400", "girth": ["400"]},
                ]
            }
        )
        assert bool(asked(data)) is asks


def test_what_few_legs_read_is_asked_until_a_second_reading_agrees() -> None:
    """Worded the same for everybody."""
    thin = pair(("small", "110", ("170",), ("175",)), *SOUND[1:])
    assert asked(thin) == [
        ("left leg, small of the leg", "Please measure again: few legs read that.")
    ]
    thin["left"]["leg"][0]["girth"] = ["170", "172"]
    assert asked(thin) == []
    thin["left"]["leg"][0]["girth"] = ["170", "174"]
    assert len(asked(thin)) == 2


def test_the_heel_measure_is_judged_wherever_it_was_written() -> None:
    """In its own field or as a station of the leg."""
    data = pair(*SOUND)
    data["left"]["heel"] = "410"
    assert asked(data) == [("left leg, heel measure", "Please measure again: few legs read that.")]
    data["left"]["heel"] = None
    data["left"]["leg"].append({"station": "heel", "girth": ["410"]})
    assert asked(data) == [("left leg, heel measure", "Please measure again: few legs read that.")]


def test_the_foot_is_read_again_by_the_same_rules_as_the_leg() -> None:
    """A second reading that agrees confirms a rare one; two that differ ask for a further one."""
    data = pair(*SOUND)
    data["left"]["leg"] += [
        {"station": "heel", "girth": ["410", "413"]},
        {"station": "ball", "girth": ["230", "236"]},
    ]
    assert asked(data) == [
        (
            "left leg, ball of the foot",
            "Please measure again: the readings differ, one more decides.",
        )
    ]


@pytest.mark.parametrize(("right", "asks"), [("352", True), ("352.1", False), ("378", True)])
def test_sides_that_differ_by_half_an_inch_are_read_once_more(right: str, asks: bool) -> None:
    """At the same height; two agreeing readings on both sides confirm it."""
    data = pair(("calf", "300", ("365",), (right,)))
    assert any("differ by" in question for _, question in asked(data)) is asks
    data["left"]["leg"][0]["girth"] = ["365", "365"]
    assert any("differ by" in question for _, question in asked(data)) is asks
    data["right"]["leg"][0]["girth"] = [right, right]
    assert not any("differ by" in question for _, question in asked(data))


def test_heights_too_far_apart_ask_for_one_between() -> None:
    """Over 80 mm, on leg and boot, by leg only."""
    data = pair(
        ("small", "110", ("225",), ("225",)),
        ("rise", "190", ("300",), ("300",)),
        ("calf", "271", ("365",), ("365",)),
    )
    data["left"]["boot"] = shaft(("100", "600"), ("300", "600"))
    found = [(where, question) for where, question in asked(data) if "between" in question]
    assert found == [
        ("left leg", "Big jump between 190 mm and 271 mm: measure one height in between."),
        ("left boot", "Big jump between 100 mm and 300 mm: measure one height in between."),
    ]
    assert asked(job()) == []


def test_a_boot_without_a_zip_asks_for_the_heel_measure() -> None:
    """By leg only; once it is there it is not asked."""
    data = pair(*SOUND, boot={"zip": None})
    assert asked(data) == [
        ("left leg, heel measure", "A boot without a zipper: measure around heel and instep too.")
    ]
    data["left"]["heel"] = "320"
    assert asked(data) == []


def test_the_gap_is_checked_against_leg_and_boot_where_both_were_read() -> None:
    """A difference over 2·√(u² + 3²) asks whether the boot was taped outside."""
    data = pair(*SOUND, unit="in")
    for side in ("left", "right"):
        for reading in data[side]["leg"]:
            reading["height"] += " mm"
            reading["girth"] = [girth + " mm" for girth in reading["girth"]]
        data[side]["boot"] = shaft(
            ("100 mm", "250 mm"), ("170 mm", "262 mm"), ("240 mm", "320 mm"), ("300 mm", "350 mm")
        )
        data[side]["target"] = "gap"
        data[side]["gaps"] = [
            {"height": "300 mm", "gap": "16 mm"},
            {"height": "240 mm", "gap": "5 mm"},
            {"height": "100 mm", "gap": "0"},
        ]
    assert asked(data) == []
    data["left"]["gaps"][0]["gap"] = "1 1/8"
    expected = "The tape says short by ⅝ in, the gap 1⅛ in: was the boot taped outside?"
    assert asked(data) == [("left boot, 300 mm", expected)]
    data["left"]["target"] = "leg"
    assert ("left boot, 300 mm", expected) in asked(data)


def test_a_question_never_blocks_the_answer() -> None:
    """All slips at once, and still a verdict."""
    data = pair(
        ("calf", "300", ("420", "365"), ("300",)),
        ("small", "110", ("140",), ("141",)),
        ("none", "200", ("260",), ("234",)),
    )
    found = answer(data)
    assert found["verdict"] == "none"
    assert len(found["left"]["slips"]) >= 4
