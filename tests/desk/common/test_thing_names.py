"""What each thing on a ticket is called."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import speech
from fitcounter.store import items
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, act: Act) -> Job:
    return make_job(store, act)


def test_a_boot_is_called_by_its_side_and_a_thing_by_its_kind(store: Store, job: Job) -> None:
    names = [name_of(items.get(store, item_id)) for item_id in (job.left, job.right, job.bag)]

    assert names == ["Left boot", "Right boot", "Bag"]
    assert [speech("es").say(name) for name in names] == [
        "Bota izquierda",
        "Bota derecha",
        "Bolso",
    ]


def test_a_kind_that_has_no_name_is_other_work(store: Store, job: Job) -> None:
    with store.write_tx():
        store.change("items", job.bag, kind="other", description="brass dog collar")

    assert name_of(items.get(store, job.bag)) == "Other work"
