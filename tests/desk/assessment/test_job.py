"""A boot's own rounds, as the answer takes them: only what was read counts, and only the last may
still be running.
"""

from __future__ import annotations

from typing import Any

import pytest
from support.measured_pair import measured_pair

from fitcounter.desk.assessment import job
from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.store import fits
from fitcounter.store.database import Act, Store

READ = {
    "method": "outside",
    "prepared": "conditioned",
    "before_um": 358_775,
    "before_text": "14 1/8",
    "before_unit": "in",
    "on_at": "2026-03-18T14:00:00Z",
    "due_off_at": "2026-03-25T14:00:00Z",
    "off_at": "2026-03-25T14:00:00Z",
    "rested_um": 365_125,
    "rested_text": "14 3/8",
    "rested_unit": "in",
    "rested_method": "outside",
}


@pytest.fixture
def fit_id(store: Store, act: Act) -> int:
    return measured_pair(store, act)[1]


def add_round(
    store: Store, fit_id: int, n: int = 1, turned_um: int | None = 377_825, **changes: object
) -> None:
    left = fits.boots(store, fit_id)[0]
    with store.write_tx():
        row = {name: value for name, value in {**READ, **changes}.items() if value is not None}
        round_id = store.insert("rounds", item_id=left.id, n=n, **row)
        if turned_um:
            store.insert(
                "turns",
                round_id=round_id,
                n=1,
                at="2026-03-18T16:00:00Z",
                girth_um=turned_um,
                girth_text="14 7/8",
                unit="in",
            )


def rounds_of(store: Store, fit_id: int) -> list[dict[str, object]]:
    fit, boots = fits.get(store, fit_id), fits.boots(store, fit_id)
    told = job.build_job(store, fit, boots)
    assess(read_job(told))  # whatever is handed over can be answered
    return list(told["left"]["rounds"])


def test_a_read_round_goes_in_as_typed_and_its_hold_counts_from_the_last_turn(
    store: Store, fit_id: int
):
    add_round(store, fit_id)
    assert rounds_of(store, fit_id) == [
        {
            "before": "14 1/8 in",
            "on_tree": "14 7/8 in",
            "rested": "14 3/8 in",
            "method": "outside",
            "hold_h": 166.0,
            "prepared": "conditioned",
        }
    ]


def test_a_running_round_has_no_rested_reading_and_the_hold_it_is_due(store: Store, fit_id: int):
    unread = {"off_at": None, "rested_um": None, "rested_text": "", "rested_method": ""}
    add_round(store, fit_id, **unread)
    (running,) = rounds_of(store, fit_id)
    assert (running["rested"], running["hold_h"]) == (None, 166.0)
    add_round(store, fit_id, n=2)
    assert [one["rested"] for one in rounds_of(store, fit_id)] == ["14 3/8 in"]


@pytest.mark.parametrize(
    "changes",
    [
        {"before_um": None},
        {"turned_um": None, "rested_um": None},
        {"turned_um": 358_775, "rested_um": None},
        {"rested_method": "inside"},
    ],
    ids=["nothing before", "nothing on the tree", "opened nothing", "two methods"],
)
def test_a_round_that_can_teach_nothing_is_left_out(
    store: Store, fit_id: int, changes: dict[str, object]
):
    add_round(store, fit_id, **changes)
    assert rounds_of(store, fit_id) == []


@pytest.mark.parametrize(
    "turned_um", [None, 358_775], ids=["nothing on the tree", "opened nothing"]
)
def test_a_rested_round_without_a_reading_on_the_tree_grew_the_boot_and_tells_no_kept_fraction(
    store: Store, fit_id: int, turned_um: int | None
):
    """14 1/8 became 14 3/8: the boot is a quarter of an inch larger, and what its leather keeps is
    still the table's guess.
    """
    before = answered(store, fit_id)
    add_round(store, fit_id, turned_um=turned_um)
    (told,) = rounds_of(store, fit_id)
    assert (told["on_tree"], told["rested"], told["hold_h"]) == (None, "14 3/8 in", 168.0)
    after = answered(store, fit_id)
    at = before["worst"]["height_mm"]
    was, now = (
        {one["height_mm"]: one["inside_mm"] for one in told["heights"]}[at]
        for told in (before, after)
    )
    assert now - was == pytest.approx(6.35)
    assert after["kept"] == before["kept"]


def answered(store: Store, fit_id: int) -> dict[str, Any]:
    """The left boot as the answer says it."""
    fit, boots = fits.get(store, fit_id), fits.boots(store, fit_id)
    told: Any = assess(read_job(job.build_job(store, fit, boots))).as_json()["left"]
    return told


def test_a_reading_taken_too_early_is_no_rested_reading(store: Store, fit_id: int):
    add_round(store, fit_id, rested_counts=0)
    assert [one["rested"] for one in rounds_of(store, fit_id)] == [None]
