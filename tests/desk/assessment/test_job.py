"""A boot's own rounds, as the answer takes them: only what was read counts, and only the last may
still be running.
"""

from __future__ import annotations

import pytest
from support.measured_pair import measured_pair

from fitcounter.desk.assessment import job, limits
from fitcounter.fit.assessment.assess import assess
from fitcounter.fit.assessment.job import Job
from fitcounter.fit.assessment.kept_fraction import MeasuredRound
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.fit.tape import parse_length
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


def job_of(store: Store, fit_id: int) -> Job:
    fit, boots = fits.get(store, fit_id), fits.boots(store, fit_id)
    return limits.checked(job.build_job(store, fit, boots, records={}), HANDBOOK)


def rounds_of(store: Store, fit_id: int) -> tuple[MeasuredRound, ...]:
    built = job_of(store, fit_id)
    assess(built)  # whatever is handed over can be answered
    return built.sides[0].rounds


def inches(text: str) -> float:
    return parse_length(text, "in").float_mm


def test_a_read_round_goes_in_as_typed_and_its_hold_counts_from_the_last_turn(
    store: Store, fit_id: int
):
    add_round(store, fit_id)
    assert rounds_of(store, fit_id) == (
        MeasuredRound(
            before_mm=inches("14 1/8"),
            on_tree_mm=inches("14 7/8"),
            rested_mm=inches("14 3/8"),
            method="outside",
            hold_h=166.0,
            dry=False,
        ),
    )


def test_a_running_round_has_no_rested_reading_and_the_hold_it_is_due(store: Store, fit_id: int):
    unread = {"off_at": None, "rested_um": None, "rested_text": "", "rested_method": ""}
    add_round(store, fit_id, **unread)
    (running,) = rounds_of(store, fit_id)
    assert (running.rested_mm, running.hold_h) == (None, 166.0)
    add_round(store, fit_id, n=2)
    assert [read.rested_mm for read in rounds_of(store, fit_id)] == [inches("14 3/8")]


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
    assert rounds_of(store, fit_id) == ()


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
    (read,) = rounds_of(store, fit_id)
    assert (read.on_tree_mm, read.rested_mm, read.hold_h) == (None, inches("14 3/8"), 168.0)
    after = answered(store, fit_id)
    at = before.worst.height_mm
    was, now = (
        {place.height_mm: place.girth_mm for place in verdict.places}[at]
        for verdict in (before, after)
    )
    assert now - was == pytest.approx(6.35)
    assert before.course is not None
    assert after.course is not None
    assert after.course.stand.kept == before.course.stand.kept


def answered(store: Store, fit_id: int) -> Verdict:
    """The left boot as the answer says it."""
    return assess(job_of(store, fit_id)).sides[0].verdict


def test_a_reading_taken_too_early_is_no_rested_reading(store: Store, fit_id: int):
    add_round(store, fit_id, rested_counts=0)
    assert [read.rested_mm for read in rounds_of(store, fit_id)] == [None]
