"""An item waits for something, and goes on where it stood."""

from __future__ import annotations

import pytest

from fitcounter.desk.bench import incidents, wait_and_go_on
from fitcounter.desk.bench.incidents import IncidentInput
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.errors import BadInput
from fitcounter.store import findings, items
from fitcounter.store.database import Act, Store


def test_what_it_waits_for_is_kept_until_it_goes_on(store: Store, job, act: Act):
    wait_and_go_on.wait(store, act, job.left, StepInput(act.at), "part", " a new slider ")
    waiting = items.get(store, job.left)
    assert (waiting.state, waiting.waits_for, waiting.waits_what) == (
        "waiting",
        "part",
        "a new slider",
    )
    wait_and_go_on.go_on(store, act, job.left, StepInput(act.at))
    going = items.get(store, job.left)
    assert (going.state, going.waits_for, going.waits_what) == ("queued", "", "")


def test_what_is_on_no_list_is_not_waited_for(store: Store, job, act: Act):
    with pytest.raises(BadInput) as refused:
        wait_and_go_on.wait(store, act, job.left, StepInput(act.at), "the weather")
    assert refused.value.field == "waits_for"
    assert items.get(store, job.left).state == "queued"


def test_what_went_wrong_is_settled_before_it_goes_on(store: Store, job, act: Act):
    incidents.stop(store, act, job.left, StepInput(act.at), "the zipper tore")
    with pytest.raises(BadInput, match="not settled"):
        wait_and_go_on.go_on(store, act, job.left, StepInput(act.at))
    (record,) = findings.incidents_of_item(store, job.left)
    incidents.settle(store, act, record.id, IncidentInput(True, "a new zipper", settled=True))
    wait_and_go_on.go_on(store, act, job.left, StepInput(act.at))
    assert items.get(store, job.left).state == "queued"
