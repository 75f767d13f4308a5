"""One ticket as its page shows it."""

from __future__ import annotations

import pytest
from support.measured_pair import measured_pair, take_in

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.tickets import page
from fitcounter.errors import NotFound
from fitcounter.store import fits
from fitcounter.store.database import Act, Store


def test_each_thing_is_named_with_where_it_stands_and_the_sums_add_up(store: Store, job, act: Act):
    seen = page.look(store, job.ticket_id)
    assert [entry.name for entry in seen.entries] == ["Left boot", "Right boot", "Bag"]
    assert (seen.sums.total_minor, seen.sums.paid_minor, seen.sums.due_minor) == (9000, 3000, 6000)
    assert not seen.all_ready
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    assert page.look(store, job.ticket_id).all_ready


def test_what_waits_for_the_tape_is_not_to_be_agreed_yet(store: Store, act: Act):
    ticket_id, fit_id = measured_pair(store, act)
    seen = page.look(store, ticket_id)
    assert (seen.to_measure, seen.to_answer, seen.to_agree) == ((), (fit_id,), True)
    fit_id = take_in(store, act)
    seen = page.look(store, fits.get(store, fit_id).ticket_id)
    assert (seen.to_measure, seen.to_answer, seen.to_agree) == ((fit_id,), (), False)


def test_a_ticket_that_is_not_there_is_not_found(store: Store):
    with pytest.raises(NotFound):
        page.look(store, 4711)
