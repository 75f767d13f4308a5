"""The rested reading of a round, taken once or twice."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.bench_cast import Pair, pair, tree

from fitcounter.desk import shop
from fitcounter.desk.assessment.job import build_job
from fitcounter.desk.bench import (
    item_page,
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds import rested_reading
from fitcounter.desk.rounds.rested_reading import RestedReading
from fitcounter.fit.assessment.kept_fraction import MeasuredRound
from fitcounter.store import fits, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, act: Act) -> Pair:
    tree(store, "4")
    return pair(store, act)


def turn(store: Store, act: Act, boots: Pair, **typed: str) -> None:
    """Puts the left boot on a tree, past its limits where need be; off a week later."""
    girths = {"before": "14 3/8", "on_tree": "14 15/16", "override_why": "leather-gives", **typed}
    told = PutOn("4", mark="10 1/2", **girths)
    put_on_turn_up_take_off.put_on(
        store, act, shop.read(store), boots.left, StepInput(act.at), told
    )
    off = act.at + timedelta(days=7)
    put_on_turn_up_take_off.take_off(store, Act(off, act.staff_id), boots.left, StepInput(off))


def read(store: Store, act: Act, boots: Pair, rested: str, instead: bool = False) -> None:
    at = act.at + timedelta(days=9)
    rested_reading.measure_again(
        store,
        Act(at, act.staff_id),
        shop.read(store),
        boots.left,
        StepInput(at),
        RestedReading(rested, instead=instead),
    )


def last(store: Store, boots: Pair) -> Round:
    row = rounds.last(store, boots.left)
    assert row is not None
    return row


def computed(store: Store, boots: Pair) -> tuple[MeasuredRound, ...]:
    fit = fits.get(store, boots.fit_id)
    return build_job(store, fit, fits.boots(store, fit.id), records={}).sides[0].rounds


def test_a_second_reading_counts_beside_the_first(store: Store, act: Act, boots: Pair) -> None:
    turn(store, act, boots)
    read(store, act, boots, "14 5/8")
    read(store, act, boots, "14 3/4")

    row = last(store, boots)
    assert (row.rested_text, row.rested_count) == ("14 5/8, 14 3/4", 2)
    (of_job,) = computed(store, boots)
    assert of_job.rested_count == 2
    assert of_job.rested_mm == pytest.approx(14.6875 * 25.4, abs=1e-3)


def test_of_three_readings_the_middle_one_counts(store: Store, act: Act, boots: Pair) -> None:
    turn(store, act, boots)
    for girth in ("14 5/8", "14 3/4", "37.3 cm"):
        read(store, act, boots, girth)

    row = last(store, boots)
    assert row.rested_text == "14 5/8 in, 14 3/4 in, 37.3 cm"
    (of_job,) = computed(store, boots)
    assert (of_job.rested_count, of_job.rested_mm) == (3, pytest.approx(373, abs=1e-3))


def test_a_first_reading_that_was_wrong_gives_way(store: Store, act: Act, boots: Pair) -> None:
    turn(store, act, boots)
    read(store, act, boots, "14 5/8")
    read(store, act, boots, "14 3/4", instead=True)

    row = last(store, boots)
    assert (row.rested_text, row.rested_count) == ("14 3/4", 1)


def test_a_second_reading_taken_back_leaves_the_first(store: Store, act: Act, boots: Pair) -> None:
    turn(store, act, boots)
    read(store, act, boots, "14 5/8")
    read(store, act, boots, "14 3/4")
    page = item_page.look(store, shop.read(store), boots.left)
    assert page.undo_step is not None
    at = act.at + timedelta(days=9)
    undo_step.undo(
        store, Act(at, act.staff_id), shop.read(store), boots.left, page.undo_step.step_id
    )

    row = last(store, boots)
    assert (row.rested_text, row.rested_count) == ("14 5/8", 1)


def test_it_is_asked_for_where_it_could_turn_done_into_not_done(
    store: Store, act: Act, boots: Pair
) -> None:
    turn(store, act, boots, on_tree="15 3/4")
    read(store, act, boots, "15 5/16")
    figures = item_page.look(store, shop.read(store), boots.left).figures
    assert figures is not None
    assert figures.again, figures.need

    read(store, act, boots, "15 5/16")
    figures = item_page.look(store, shop.read(store), boots.left).figures
    assert figures is not None
    assert not figures.again


def test_before_is_never_filled_in_with_the_last_rested_reading(
    store: Store, act: Act, boots: Pair
) -> None:
    """Left empty, it stands for it: limits are still looked at, and the gains are chained."""
    turn(store, act, boots)
    read(store, act, boots, "14 5/8")
    hints = item_page.look(store, shop.read(store), boots.left).hints
    assert hints is not None
    assert (hints.before, hints.by_rested) == ("", True)
    assert hints.planned

    later = Act(act.at + timedelta(days=10), act.staff_id)
    turn(store, later, boots, before="", on_tree="15")
    row = last(store, boots)
    assert (row.before_um, row.before_text, row.before_read) == (round(14.625 * 25400), "", 0)
    first, second = computed(store, boots)
    assert second.follows(first)


def test_before_read_anew_is_kept_as_read(store: Store, act: Act, boots: Pair) -> None:
    turn(store, act, boots)
    read(store, act, boots, "14 5/8")
    later = Act(act.at + timedelta(days=10), act.staff_id)
    turn(store, later, boots, before="14 11/16", on_tree="15")

    row = last(store, boots)
    assert (row.before_text, row.before_read) == ("14 11/16", 1)
