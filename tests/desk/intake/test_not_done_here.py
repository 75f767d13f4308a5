"""What the shop does not do is told apart from what it does, in the words in which it is asked."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.contact import Phone
from fitcounter.desk.common.translation import speaking
from fitcounter.desk.intake import not_done_here
from fitcounter.desk.intake.job_records import NewJob, Thing, Who
from fitcounter.errors import BadInput
from fitcounter.store.database import Store


def job(*jobs: str) -> NewJob:
    return NewJob(Who("Ada", Phone()), None, tuple(Thing("shoe", "shoes", one) for one in jobs))


@pytest.mark.parametrize(
    ("jobs", "left", "answered"),
    [
        ("heel tips, lengthen feet", "heel tips", ["foot-longer"]),
        ("new zipper; higher heels; longer foot", "new zipper", ["heel-height", "foot-longer"]),
        ("heel", "heel", []),  # several begin so: it is asked about where the price is agreed
        ("stretch them wider", "stretch them wider", []),
    ],
)
def test_each_work_is_looked_up_by_itself(store: Store, jobs: str, left: str, answered: list[str]):
    kept, asked = not_done_here.apart(store, job(jobs))
    assert [one.jobs for one in kept.things] == [left]
    assert [one.key for one in asked] == answered


def test_it_is_asked_for_in_spanish_too(store: Store):
    with speaking("es"), pytest.raises(BadInput, match="No alargamos el pie"):
        not_done_here.apart(store, job("alargar pies"))
