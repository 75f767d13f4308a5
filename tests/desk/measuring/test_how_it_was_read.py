"""How a pair was read, as the columns it is kept in: every typed length in micrometres."""

from __future__ import annotations

import pytest

from fitcounter.desk.measuring.how_it_was_read import Terms, columns_of, station_at
from fitcounter.errors import BadFields


def refused(terms: Terms) -> dict[str, str]:
    with pytest.raises(BadFields) as error:
        columns_of(terms, "in", "leg")
    return dict(error.value.sentences)


def test_lengths_are_kept_in_whole_micrometres_of_the_sheets_unit_or_their_own() -> None:
    kept = columns_of(Terms(layer="2 mm", seat="1", wall="0.3 cm", rise="3 cm"), "in", "gap")
    assert (kept.of_fit["layer_um"], kept.of_fit["unit"]) == (2000, "in")
    assert (kept.of_boots["seat_um"], kept.of_boots["rise_um"]) == (25_400, 30_000)
    assert (kept.of_boots["wall_um"], kept.of_boots["target"]) == (3000, "gap")


def test_an_empty_wall_leaves_the_one_that_is_stored() -> None:
    assert "wall_um" not in columns_of(Terms(), "in", "leg").of_boots


def test_heel_and_short_shaft_are_of_one_boot_alone() -> None:
    kept = columns_of(Terms(heel_left="13", ends_right=True), "in", "leg")
    assert (kept.of_boot("left")["heel_um"], kept.of_boot("left")["ends_below"]) == (330_200, 0)
    assert (kept.of_boot("right")["heel_um"], kept.of_boot("right")["ends_below"]) == (None, 1)
    assert kept.of_boot("left")["method"] == "inside"


@pytest.mark.parametrize(("heights_from", "needs"), [("ground", "seat"), ("top-line", "shaft")])
def test_heights_from_elsewhere_need_the_length_that_leads_to_the_seat(
    heights_from: str, needs: str
) -> None:
    terms = Terms(heights_from=heights_from)
    assert set(refused(terms)) == {needs}
    columns_of(terms._replace(**{needs: "10"}), "in", "leg")


def test_every_length_that_cannot_be_taken_is_said_at_once() -> None:
    sentences = refused(Terms(layer="3", wall="a bit", heel_left="13"))
    assert set(sentences) == {"layer", "wall"}
    assert "over 20 mm" in sentences["layer"]


@pytest.mark.parametrize(
    ("height_mm", "station"),
    [
        (0, "small"),
        (140, ""),
        (150, "achilles"),
        (290, "rise"),
        (300, "calf"),
        (420, "below-knee"),
        (421, ""),
    ],
)
def test_a_height_on_a_leg_has_its_likely_name(height_mm: float, station: str) -> None:
    assert station_at(height_mm) == station
