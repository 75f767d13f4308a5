"""The cells of a sheet, as people type them."""

from __future__ import annotations

import pytest

from fitcounter.desk.measuring.sheet import Row, Sheet, read_again, read_sheet
from fitcounter.errors import BadInput


def sheet_with(
    cells: dict[str, str],
    heights: tuple[str, ...] = ("12", "14"),
    unit: str = "in",
    target: str = "leg",
) -> Sheet:
    return Sheet(unit, target, tuple(Row(height, "calf") for height in heights), cells)


def test_a_cell_is_an_exact_length_that_keeps_its_text():
    (cell,) = read_sheet(sheet_with({"leg_left_1": "14 1/4"}))
    assert (cell.what, cell.side, cell.row, cell.repeat, cell.length.um, cell.length.text) == (
        "leg",
        "left",
        1,
        1,
        361_950,
        "14 1/4",
    )
    assert (cell.height.um, cell.station) == (355_600, "calf")


def test_every_cell_that_cannot_be_read_has_its_own_sentence():
    with pytest.raises(BadInput) as refused:
        read_sheet(
            sheet_with(
                {
                    "leg_left_0": "14 1/3",
                    "leg_right_0": "abc",
                    "boot_left_1": "13",
                    "boot_right_1": "1'",
                }
            )
        )
    assert set(refused.value.sentences) == {"leg_left_0", "leg_right_0", "boot_right_1"}
    assert "Feet" in refused.value.sentences["boot_right_1"]
    assert "abc" not in " ".join(refused.value.sentences.values())


def test_two_lines_at_one_height_are_both_named():
    with pytest.raises(BadInput) as refused:
        read_sheet(sheet_with({"leg_left_0": "14", "leg_left_1": "14"}, ("12", "304.8mm")))
    assert refused.value.sentences == {
        "height_1": "Lines 1 and 2 are at the same height. Keep one of them."
    }


def test_a_reading_without_its_height_asks_for_it_and_an_empty_line_does_not():
    with pytest.raises(BadInput) as refused:
        read_sheet(sheet_with({"leg_left_1": "14"}, ("", "", "")))
    assert set(refused.value.sentences) == {"height_1"}


def test_centimetres_read_as_inches_are_more_than_can_be_stored():
    with pytest.raises(BadInput) as refused:
        read_sheet(sheet_with({"leg_left_0": "370"}))
    assert "unit (in)" in refused.value.sentences["leg_left_0"]


def test_a_second_reading_alone_counts_as_the_first():
    (cell,) = read_sheet(sheet_with({"leg_left_0_2": "14"}))
    assert cell.repeat == 1


def test_an_untouched_text_stays_what_it_was_when_the_sheet_changes_its_unit():
    turned = Sheet(
        "cm",
        "leg",
        (Row("12", "calf", "in"),),
        {"leg_left_0": "14 1/4", "leg_right_0": "36.5"},
        kept={"leg_left_0": "14 1/4"},
        kept_unit="in",
    )
    left, right = read_sheet(turned)
    assert (left.length.um, left.length.unit) == (361_950, "in")
    assert (right.length.um, right.length.unit) == (365_000, "cm")
    assert left.height.um == 304_800


def test_a_side_that_is_not_here_is_not_read():
    cells = read_sheet(
        Sheet(
            "in", "leg", (Row("12"),), {"leg_left_0": "14", "leg_right_0": "abc"}, sides=("left",)
        )
    )
    assert [cell.side for cell in cells] == ["left"]


def test_a_second_reading_is_known_by_its_name() -> None:
    names = ["height_0", "leg_left_0", "boot_right_3_2", "leg_left_0_4", "submission_id", "layer"]
    assert read_again(names) == ["boot_right_3_2", "leg_left_0_4"]
    assert read_again(["own_height_0", "heel_left"]) == []
