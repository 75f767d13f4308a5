"""One thing, and what came in with it."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.errors import NotFound
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_a_thing_comes_with_everything_on_its_ticket_and_nothing_else(
    store: Store, act: Act, job: Job
):
    make_job(store, act)
    held = items.of_ticket(store, job.ticket_id)
    assert {job.left, job.right, job.bag} <= {one.id for one in held}
    for one in held:
        assert items.with_ticket(store, one.id) == (one, held)
        assert items.get(store, one.id) == one


@pytest.mark.parametrize("ask", [items.get, items.with_ticket])
def test_a_number_that_nothing_has_is_refused(store: Store, job: Job, ask):
    with pytest.raises(NotFound, match="No such item"):
        ask(store, job.bag + 1)
