"""Phone numbers, days and the cells of a sheet, as people type them."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk.common.contact import Phone, read_phone
from fitcounter.desk.common.fields import next_open, read_day, read_whole
from fitcounter.desk.measuring.sheet import Row, Sheet, read_sheet
from fitcounter.errors import BadInput

TODAY = date(2026, 3, 17)


@pytest.mark.parametrize(
    ("typed", "e164", "last4"),
    [
        ("", "", ""),
        ("(412) 555-0123", "+14125550123", "0123"),
        ("(412) 555-0123 x7", "+14125550123", "0123"),
        ("0123", "", "0123"),
        ("+44 7700 900049", "+447700900049", "0049"),
        ("412.555.0123", "+14125550123", "0123"),
        ("555-0123", "", "0123"),
    ],
)
def test_a_number_is_kept_as_said_and_once_more_to_be_compared(typed: str, e164: str, last4: str):
    assert read_phone(typed, "US") == Phone(typed, e164, last4)


def test_a_number_without_its_country_is_the_shops_countrys():
    assert read_phone("07700 900049", "GB").e164 == "+447700900049"


@pytest.mark.parametrize(
    "typed",
    ["call my wife", "+", "2" * 200, "٠١٢٣٤٥٦٧٨٩", "123", "12\u0000345678", "<script>", "--------"],
)
def test_what_is_no_number_is_refused_with_what_to_type(typed: str):
    with pytest.raises(BadInput, match="in figures") as refused:
        read_phone(typed, "US")
    assert refused.value.field == "phone"


@pytest.mark.parametrize(
    "typed",
    [
        "2026-02-30",
        "31/02/2026",
        "03/04/2026",
        "0000-00-00",
        "99999-01-01",
        "tomorrow",
        "20260401",
        "2026-W14-1",
    ],
)
def test_what_is_no_day_is_refused(typed: str):
    with pytest.raises(BadInput, match="year, month, day"):
        read_day(typed, TODAY, "needed_by")


def test_a_day_that_is_over_or_far_off_is_refused():
    with pytest.raises(BadInput, match="over"):
        read_day("2026-03-16", TODAY, "needed_by")
    with pytest.raises(BadInput, match="two years"):
        read_day("2028-04-17", TODAY, "needed_by")
    with pytest.raises(BadInput, match="up to today"):
        read_day("2026-03-18", TODAY, "since_left", past_ok=True)
    assert read_day("2026-03-17", TODAY, "needed_by") == TODAY
    assert read_day("2026-03-17", TODAY, "since_left", past_ok=True) == TODAY
    assert read_day(" ", TODAY, "needed_by") is None


def test_whole_numbers_are_figures_from_nought_to_nine():
    assert read_whole("4", 1, 6, "rounds", "the goes") == 4
    for typed in ("0", "7", "٣", "-1", "1.0", "1_0", "", "9" * 30):
        with pytest.raises(BadInput, match="the goes"):
            read_whole(typed, 1, 6, "rounds", "the goes")


def test_the_next_open_day_is_the_day_itself_when_it_is_open():
    assert next_open(date(2026, 3, 17), (1, 2)) == date(2026, 3, 17)
    assert next_open(date(2026, 3, 19), (1, 2)) == date(2026, 3, 24)


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
