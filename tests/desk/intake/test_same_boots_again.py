"""The same boots again: a new ticket that knows the old one, and what is not taken along."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk.intake.same_boots_again import take_in_again
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.store import findings, fits, items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def gone(store: Store, act: Act) -> Job:
    """Boots of a ticket that was closed."""
    made = make_job(store, act, state="closed")
    with store.write_tx():
        store.change("tickets", made.ticket_id, state="closed", worn_with="sock")
        store.change("items", made.left, material="nubuck", shelf="C2", target="gap")
    return made


def test_the_boots_come_along_as_they_were_described_and_begin_anew(
    store: Store, act: Act, choices: Shop, gone: Job
) -> None:
    written = take_in_again(store, act, choices, gone.ticket_id)
    assert written.ticket_id is not None
    fresh = tickets.get(store, written.ticket_id)
    assert (fresh.returns_ticket_id, fresh.worn_with, fresh.state) == (
        gone.ticket_id,
        "sock",
        "open",
    )
    left, right = items.of_ticket(store, fresh.id)  # the bag does not come along
    assert (left.material, left.target, left.shelf, left.state) == ("nubuck", "gap", "", "counter")
    assert left.mark_um is None
    assert [one.word for one in findings.of_item(store, right.id)] == ["prior-stretch"]
    assert written.row_id == left.fit_id == right.fit_id
    assert fits.get(store, written.row_id or 0).hold_h == choices.hold_h


def test_boots_that_are_here_or_back_already_are_not_taken_in_twice(
    store: Store, act: Act, choices: Shop, gone: Job
) -> None:
    here = make_job(store, act, "Tobias")
    with pytest.raises(BadInput, match="still here"):
        take_in_again(store, act, choices, here.ticket_id)
    back = take_in_again(store, act, choices, gone.ticket_id)
    with pytest.raises(Conflict) as twice:
        take_in_again(store, Act(act.at, 2), choices, gone.ticket_id)
    assert twice.value.ticket_id == back.ticket_id


def test_without_boots_or_without_a_name_there_is_nothing_to_take_in(
    store: Store, act: Act, choices: Shop, gone: Job
) -> None:
    with store.write_tx():
        customer_id = tickets.get(store, gone.ticket_id).customer_id
        store.change("customers", customer_id, erased_at="2026-03-17T14:00:00Z")
    with pytest.raises(NotFound, match="erased"):
        take_in_again(store, act, choices, gone.ticket_id)
    with store.write_tx():
        store.change("customers", customer_id, erased_at=None)
        store.db.execute("DELETE FROM items WHERE fit_id = ?", [gone.fit_id])
    with pytest.raises(BadInput, match="no boots"):
        take_in_again(store, act, choices, gone.ticket_id)
