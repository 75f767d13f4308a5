"""Catching up: one step that is never a reading."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.errors import OutOfOrder
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_it_is_further_along_is_one_step_that_is_never_a_reading(store: Store, job, act: Act):
    catch_up(store, act, job.left, "to-decide", StepInput(act.at))
    assert items.get(store, job.left).state == "to-decide"
    assert [(one.step, one.recorded) for one in items.steps(store, job.left)] == [("catch-up", 0)]
    assert store.value("SELECT count(*) FROM boot_readings") == 0


def test_nothing_is_caught_up_to_over_the_counter(store: Store, job, act: Act):
    for state in ("out", "closed", "no such state"):
        with pytest.raises(OutOfOrder):
            catch_up(store, act, job.left, state, StepInput(act.at))
