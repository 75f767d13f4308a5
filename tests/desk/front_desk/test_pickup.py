"""Handing over: each item named, paid, the calendar begun, once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.tickets import payments, price_change
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.store import bills, contacts, items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def handed(shelved, act: Act) -> pickup.Handover:
    things = frozenset((shelved.left, shelved.right, shelved.bag))
    return pickup.Handover(things, act.at, "Marisol", 6000, preset="three-short-wears", hour=18)


def test_the_counter_sees_that_all_is_here_and_what_is_owed(store: Store, shelved):
    seen = pickup.look(store, shelved.ticket_id)
    assert (seen.ready, seen.missing, seen.sums.due_minor) == (True, "", 6000)


def test_the_counter_sees_what_is_missing_in_words(store: Store, job):
    seen = pickup.look(store, job.ticket_id)
    assert not seen.ready
    assert "both boots and bag waiting for the bench" in seen.missing


def test_handing_over_moves_every_item_pays_and_begins_the_calendar_in_one_go(
    store: Store, shelved, handed, act: Act
):
    pickup.hand_over(store, act, shelved.ticket_id, handed, shop.read(store))

    ticket = tickets.get(store, shelved.ticket_id)
    assert {one.state for one in items.of_ticket(store, shelved.ticket_id)} == {"out"}
    assert (ticket.state, ticket.collected_by, ticket.guarantee_end) == (
        "out",
        "Marisol",
        "2027-03-17",
    )
    assert [one.amount_minor for one in bills.payments(store, shelved.ticket_id)] == [3000, 6000]
    assert [one.due_day for one in contacts.follow_ups_of_ticket(store, shelved.ticket_id)] == [
        "2026-03-20",
        "2026-03-27",
    ]
    now = wear_calendar.current(store, shelved.ticket_id, act.at)
    assert [wear.minutes for wear in now.plan.to_come] == [30, 30, 30]
    assert now.plan.hour == 18


def test_lines_are_billed_at_the_last_pickup_and_a_refund_after_it_on_its_own_day(
    store: Store, shelved, handed, act: Act
):
    choices, later = shop.read(store), replace(act, at=act.at + timedelta(days=40))
    boots = replace(handed, item_ids=frozenset((shelved.left, shelved.right)), part=True)
    pickup.hand_over(store, act, shelved.ticket_id, boots, choices)
    assert {one.billed_at for one in bills.lines(store, shelved.ticket_id)} == {None}
    bag = replace(handed, item_ids=frozenset((shelved.bag,)), paid_minor=0)
    pickup.hand_over(store, act, shelved.ticket_id, bag, choices)
    back = payments.Typed("refund", "10", "a scratch", method="cash")
    payments.write_down(store, later, shelved.ticket_id, back)
    billed = [one.billed_at for one in bills.lines(store, shelved.ticket_id)]
    assert billed == ["2026-03-17T14:00:00Z", "2026-04-26T14:00:00Z"]
    ticket, off = tickets.get(store, shelved.ticket_id), {"discount": "5", "discount_why": "late"}
    change = price_change.PriceChange(lines=(), why="", **off, version=ticket.version)
    price_change.change(store, later, choices, ticket.id, change, store.path.parent)
    assert bills.lines(store, ticket.id)[-1].billed_at == "2026-04-26T14:00:00Z"


def test_sent_twice_it_is_paid_once(store: Store, shelved, handed, clock: Clock):
    twice = Act(clock.now, 1, None, "submission-1", "body")
    for _ in range(2):
        pickup.hand_over(store, twice, shelved.ticket_id, handed, shop.read(store))
    assert len(bills.payments(store, shelved.ticket_id)) == 2


def test_handed_over_again_from_another_phone_is_a_conflict(
    store: Store, shelved, handed, act: Act
):
    pickup.hand_over(store, act, shelved.ticket_id, handed, shop.read(store))
    with pytest.raises(Conflict):
        pickup.hand_over(store, act, shelved.ticket_id, handed, shop.read(store))
    assert len(bills.payments(store, shelved.ticket_id)) == 2


def test_one_boot_is_not_handed_out_by_mistake(store: Store, shelved, handed, act: Act):
    one = replace(handed, item_ids=frozenset((shelved.left,)))
    with pytest.raises(BadInput, match="Right boot and Bag"):
        pickup.hand_over(store, act, shelved.ticket_id, one, shop.read(store))
    assert items.get(store, shelved.left).state == "shelved"
    assert len(bills.payments(store, shelved.ticket_id)) == 1


def test_she_may_take_the_boots_and_come_again_for_the_bag(store: Store, shelved, handed, act: Act):
    boots = replace(handed, item_ids=frozenset((shelved.left, shelved.right)), part=True)
    pickup.hand_over(store, act, shelved.ticket_id, boots, shop.read(store))
    ticket = tickets.get(store, shelved.ticket_id)
    assert (ticket.state, ticket.come_twice) == ("open", 1)
    assert items.get(store, shelved.bag).state == "shelved"

    bag = pickup.Handover(frozenset((shelved.bag,)), act.at, "Marisol")
    pickup.hand_over(store, act, shelved.ticket_id, bag, shop.read(store))
    assert tickets.get(store, shelved.ticket_id).state == "out"


def test_what_is_not_ready_goes_only_when_that_is_said(store: Store, job, act: Act):
    everything = pickup.Handover(frozenset((job.left, job.right, job.bag)), act.at, "Marisol")
    with pytest.raises(BadInput, match="waiting for the bench"):
        pickup.hand_over(store, act, job.ticket_id, everything, shop.read(store))
    pickup.hand_over(
        store, act, job.ticket_id, replace(everything, catch_up=True), shop.read(store)
    )
    assert [one.recorded for one in items.steps(store, job.bag)] == [0, 0, 1]


def test_somebody_must_be_named_and_something_be_struck(store: Store, shelved, handed, act: Act):
    for wrong, words in (
        (replace(handed, collected_by=""), "who picks up"),
        (replace(handed, item_ids=frozenset()), "Scan or tick"),
    ):
        with pytest.raises(BadInput, match=words):
            pickup.hand_over(store, act, shelved.ticket_id, wrong, shop.read(store))


def test_tried_on_it_fits_is_snug_or_goes_back(store: Store, shelved, act: Act):
    pickup.try_on(store, act, shelved.left, "snug", StepInput(act.at))
    pickup.try_on(store, act, shelved.right, "back", StepInput(act.at))
    assert items.get(store, shelved.left).tried_on == "snug"
    assert items.get(store, shelved.right).state == "queued"
    with pytest.raises(BadInput):
        pickup.try_on(store, act, shelved.left, "perhaps", StepInput(act.at))


def test_a_bag_alone_has_no_calendar_and_no_guarantee(store: Store, shelved, act: Act):
    bag = pickup.Handover(
        frozenset((shelved.bag,)), act.at, "Marisol", preset="three-short-wears", part=True
    )
    pickup.hand_over(store, act, shelved.ticket_id, bag, shop.read(store))
    assert tickets.get(store, shelved.ticket_id).guarantee_end is None
    with pytest.raises(NotFound):
        wear_calendar.current(store, shelved.ticket_id, act.at)
