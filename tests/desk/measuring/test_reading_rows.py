"""The rows behind a sheet: an unchanged reading keeps its reader, a changed one has a new one."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.measured_pair import BOOT, GAPS, LEG, cells, save_gap, sheet_of, take_in

from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.store import fits, readings
from fitcounter.store.database import Act, Store


@pytest.fixture
def fit_id(store: Store, act: Act) -> int:
    fit_id = take_in(store, act)
    save_gap(store, act, fit_id)
    return fit_id


def save(store: Store, act: Act, fit_id: int, target: str, typed: dict[str, str]) -> None:
    later = Act(act.at + timedelta(hours=1), 2)
    measuring_save.save(store, later, fit_id, sheet_of(target, typed), Terms(), None)


def test_only_the_reading_that_was_changed_has_a_new_reader(
    store: Store, act: Act, fit_id: int
) -> None:
    save(store, act, fit_id, "gap", cells(gap=GAPS, boot=BOOT) | {"boot_left_1": "13 3/4"})
    left, right = fits.boots(store, fit_id)
    assert [(one.girth_text, one.staff_id) for one in readings.boots(store, left.id)] == [
        ("12 7/8", 1),
        ("13 3/4", 2),
        ("14", 1),
    ]
    assert {one.staff_id for one in readings.boots(store, right.id)} == {1}


def test_readings_of_another_way_stay_and_those_of_this_one_are_replaced(
    store: Store, act: Act, fit_id: int
) -> None:
    """Measured by the leg after all: the gaps that were read stay in the file."""
    save(store, act, fit_id, "leg", cells(leg=LEG, boot=BOOT))
    left, right = fits.boots(store, fit_id)
    stored = readings.brought_in(store, fit_id, (left.id, right.id))
    assert [one.gap_text for one in stored.gaps[left.id, "gap"]] == list(GAPS)
    assert [leg.side for leg in stored.legs] == ["left"] * 3 + ["right"] * 3
    save(store, act, fit_id, "leg", cells(leg=LEG[:2], boot=BOOT[:2]))
    assert len(readings.legs(store, fit_id)) == 4
