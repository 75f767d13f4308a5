"""The measuring form: what people type, what is said at its cell, and fields that are missing."""

from __future__ import annotations

import pytest
from support.cast import Counter
from support.counter_forms import errors, gap_sheet, taken_in, value
from support.sent_sheet import count, send

from fitcounter.store import fits, readings
from fitcounter.store.database import Store


@pytest.fixture
def fit_id(counter: Counter) -> int:
    return taken_in(counter)


# reliability: the spellings of a reading, each at a cell of its own
READ = [
    "16 1/4",
    "16-1/4",
    "16¼",
    '16 1/4"',
    "16 1⁄4",
    "16\u00a01/4",
    "16.25",
    "16,25",
    "41.3cm",
    "413 mm",
    "41,3 cm",
    "16 1/4\u200f",
]


WRONG = [
    "1/0",
    "3/0",
    "16 5/4",
    "16 1/3",
    "16 1/7",
    "-3",
    "−3",
    "0",
    "-0",
    "1e9",
    "1e400",
    "0x10",
    "1_6",
    ".5",
    "NaN",
    "inf",
    "Infinity",
    "nan(1)",
    "٣",
    "²",
    "sixteen",
    "16'",
    "1' 4\"",
    "16; DROP TABLE items",
    "1,625",
    "145/8",
    "9" * 30,
    "<b>16</b>",
]


@pytest.mark.parametrize("typed", READ)
def test_what_people_type_is_read(counter: Counter, store: Store, fit_id: int, typed: str):
    answer = send(counter, fit_id, gap_sheet(boot_left_1=typed))
    assert answer.status_code == 303, errors(answer)
    left, _ = fits.boots(store, fit_id)
    assert readings.boots(store, left.id)[1].girth_um in (412_750, 413_000)


@pytest.mark.parametrize("typed", WRONG)
def test_what_is_no_reading_is_said_at_its_cell_and_still_stands_in_it(
    counter: Counter, store: Store, fit_id: int, typed: str
):
    answer = send(counter, fit_id, gap_sheet(boot_left_1=typed))
    assert answer.status_code == 422
    assert 'id="boot_left_1-error"' in answer.text
    assert value(answer.text, "boot_left_1") == typed
    assert value(answer.text, "gap_right_2") == "1/2"
    assert count(store) == 0


def test_each_cell_that_cannot_be_read_has_its_own_sentence(
    counter: Counter, store: Store, fit_id: int
):
    answer = send(counter, fit_id, gap_sheet(gap_left_0="7/9", boot_right_2="abc", boot_left_1=""))
    assert answer.status_code == 422
    for cell in ("gap_left_0", "boot_right_2"):
        assert f'id="{cell}-error"' in answer.text
    assert value(answer.text, "gap_left_0") == "7/9"
    assert value(answer.text, "boot_right_2") == "abc"
    assert count(store) == 0


def test_a_null_byte_is_refused(counter: Counter, store: Store, fit_id: int):
    assert send(counter, fit_id, gap_sheet(boot_left_1="16\x00")).status_code == 422
    assert count(store) == 0


def test_missing_fields_have_their_usual_value_and_foreign_ones_are_not_looked_at(
    counter: Counter, store: Store, fit_id: int
):
    form = gap_sheet(status="ready", price="0", leg_left_0="14", leg_left_99="14", boot_up_0="x")
    del form["ease"], form["over"]
    assert send(counter, fit_id, form).status_code == 303
    assert store.value("SELECT count(*) FROM leg_readings") == 0
    assert fits.get(store, fit_id).over == "sheer"


@pytest.mark.parametrize("name", ["ease", "unit", "marked", "ends_left", "boot_left_1", "layer"])
def test_a_field_that_came_twice_is_refused_whether_it_is_picked_ticked_or_typed(
    counter: Counter, store: Store, fit_id: int, name: str
):
    form = gap_sheet()
    answer = send(counter, fit_id, form | {name: [form.get(name, "on"), "13"]})
    assert answer.status_code == 400
    assert "One field was sent twice" in answer.text
    assert count(store) == 0


@pytest.mark.parametrize("name", ["ease", "unit", "over", "method", "heights_from", "posture"])
def test_a_pick_that_is_no_word_of_its_list_is_said_at_it(
    counter: Counter, store: Store, fit_id: int, name: str
):
    answer = send(counter, fit_id, gap_sheet(**{name: "sideways"}))
    assert answer.status_code == 422
    assert "Pick one from the list." in answer.text
    assert count(store) == 0


@pytest.mark.parametrize(("sent", "ends"), [("y", 1), ("on", 1), ("false", 0), ("", 0)])
def test_a_tick_is_kept_and_one_that_is_missing_is_taken_away(
    counter: Counter, store: Store, fit_id: int, sent: str, ends: int
):
    for ticked, kept in (("y", 1), (sent, ends)):
        assert send(counter, fit_id, gap_sheet(ends_left=ticked)).status_code == 303
        assert fits.boots(store, fit_id)[0].ends_below == kept
    assert send(counter, fit_id, gap_sheet()).status_code == 303
    assert fits.boots(store, fit_id)[0].ends_below == 0
