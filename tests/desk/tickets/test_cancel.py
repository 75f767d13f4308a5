"""A job is cancelled at any moment, whole or one item of it, and can be taken up again."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.bench_cast import tree

from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.common import item_words, money
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import cancel
from fitcounter.desk.tickets.cancel import Cancellation
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.store import bills, items, plans, rounds, tickets
from fitcounter.store.database import Act, Store


def due(store: Store, ticket_id: int) -> int:
    ticket = tickets.get(store, ticket_id)
    lines, paid = bills.lines(store, ticket_id), bills.payments(store, ticket_id)
    return money.sums(ticket, lines, paid).due_minor


def all_of(**changes: object) -> Cancellation:
    told: dict[str, object] = {"item_id": None, "charge_minor": 0, **changes}
    return Cancellation(**told)  # type: ignore[arg-type]


def test_all_of_it_goes_back_undone_and_the_deposit_is_owed_to_the_customer(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    words = cancel.cancel(store, act, choices, job.ticket_id, all_of(), tmp_path).words

    held = items.of_ticket(store, job.ticket_id)
    assert {(one.state, one.cancelled, one.half_done) for one in held} == {
        ("declined", "customer", 0)
    }
    assert {item_words.state_of(one) for one in held} == {"cancelled, ready to pick up"}
    assert due(store, job.ticket_id) == -3000
    assert words == "Cancelled. To refund: $30.00."
    assert [one.what for one in bills.lines(store, job.ticket_id)] == [
        "Stretch, up to two goes",
        "Work not done",
    ]


def test_a_boot_on_its_tree_comes_off_half_done_and_the_tree_is_free(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    tree_id = tree(store, "B4")
    put = put_on_turn_up_take_off.PutOn(tree="B4")
    put_on_turn_up_take_off.put_on(store, act, choices, job.left, StepInput(act.at), put)

    cancelled = all_of(charge_minor=3000)
    words = cancel.cancel(store, act, choices, job.ticket_id, cancelled, tmp_path).words

    left = items.get(store, job.left)
    assert (left.state, left.half_done) == ("declined", 1)
    assert item_words.state_of(left) == "cancelled half done, ready to pick up"
    last = rounds.last(store, job.left)
    assert last is not None
    assert (last.outcome, bool(last.off_at)) == ("stopped", True)
    assert plans.of_item(store, job.left) == []
    assert rounds.on_tree(store, tree_id) is None
    assert "(tree B4)" in words
    assert due(store, job.ticket_id) == 0


def test_undone_the_job_stands_where_it_stood_at_its_price(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    tree_id = tree(store, "B4")
    put = put_on_turn_up_take_off.PutOn(tree="B4")
    put_on_turn_up_take_off.put_on(store, act, choices, job.left, StepInput(act.at), put)
    before = {one.id: one.state for one in items.of_ticket(store, job.ticket_id)}
    cancel.cancel(store, act, choices, job.ticket_id, all_of(), tmp_path)

    cancel.undo(store, act, choices, job.ticket_id)

    after = items.of_ticket(store, job.ticket_id)
    assert {one.id: one.state for one in after} == before
    assert {one.cancelled for one in after} == {""}
    assert due(store, job.ticket_id) == 6000
    running = rounds.on_tree(store, tree_id)
    assert running is not None
    assert running.item_id == job.left
    assert plans.of_item(store, job.left)[0].tree_id == tree_id
    with pytest.raises(OutOfOrder, match="nothing to undo"):
        cancel.undo(store, act, choices, job.ticket_id)


def test_one_item_alone_goes_back_and_the_rest_goes_on(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    bag = Cancellation(item_id=job.bag, charge_minor=9000, why="shop", note="no such zip")
    cancel.cancel(store, act, choices, job.ticket_id, bag, tmp_path)

    assert items.get(store, job.bag).cancelled == "shop"
    assert items.get(store, job.left).state == "queued"
    assert due(store, job.ticket_id) == 6000, "the bag had no price of its own"
    with pytest.raises(OutOfOrder, match="done or gone"):
        cancel.cancel(store, act, choices, job.ticket_id, bag, tmp_path)


def test_what_is_given_back_at_once_is_never_more_than_is_owed(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    typed = all_of(charge_minor=1000, refund_minor=2001, method="cash")
    with pytest.raises(BadInput, match=r"\$20.00 is to be given back"):
        cancel.cancel(store, act, choices, job.ticket_id, typed, tmp_path)
    assert items.get(store, job.left).state == "queued", "nothing was stored"

    typed = all_of(charge_minor=1000, refund_minor=2000, method="cash")
    cancel.cancel(store, act, choices, job.ticket_id, typed, tmp_path)
    assert due(store, job.ticket_id) == 0
    last = bills.payments(store, job.ticket_id)[-1]
    assert (last.kind, last.amount_minor, last.method) == ("refund", 2000, "cash")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"charge_minor": 9001}, "charge"),
        ({"why": "weather"}, "why"),
        ({"note": "4111 1111 1111 1111"}, "note"),
    ],
)
def test_what_cannot_be_taken_changes_nothing(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path, changes: dict, field: str
):
    with pytest.raises(BadInput) as error:
        cancel.cancel(store, act, choices, job.ticket_id, all_of(**changes), tmp_path)
    assert error.value.field == field
    assert {one.state for one in items.of_ticket(store, job.ticket_id)} == {"queued"}


def test_two_who_cancel_the_same_ticket_do_it_once(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    seen = tickets.get(store, job.ticket_id).version
    bag = Cancellation(item_id=job.bag, charge_minor=9000, version=seen)
    cancel.cancel(store, act, choices, job.ticket_id, bag, tmp_path)
    with pytest.raises(Conflict):
        cancel.cancel(store, act, choices, job.ticket_id, all_of(version=seen), tmp_path)
    assert items.get(store, job.left).state == "queued"


def test_what_was_never_brought_in_needs_no_pickup(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    with store.write_tx():
        for item_id in (job.left, job.right, job.bag):
            store.change("items", item_id, state="expected")
    cancel.cancel(store, act, choices, job.ticket_id, all_of(), tmp_path)
    held = items.of_ticket(store, job.ticket_id)
    assert {item_words.state_of(one) for one in held} == {"cancelled, with the customer"}
    assert tickets.get(store, job.ticket_id).state == "closed"
    lines = bills.lines(store, job.ticket_id)
    assert all(one.billed_at for one in lines), "what is charged is in the accountant's file"
