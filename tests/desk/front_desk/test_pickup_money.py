"""The money at the handing over: in two parts, with a tip, and asked about above the balance."""

from __future__ import annotations

import pytest

from fitcounter.desk.front_desk.pickup_money import Handover, take_money
from fitcounter.errors import BadInput
from fitcounter.store import bills, tickets
from fitcounter.store.database import Act, Store


def test_two_ways_of_paying_are_two_rows_and_a_tip_is_no_part_of_either(
    store: Store, act: Act, job
):
    handed = Handover(
        frozenset(),
        act.at,
        "Ada",
        4000,
        "card",
        second_minor=2000,
        second_method="cash",
        tip_minor=500,
        above=False,
    )
    with store.write_tx():
        take_money(store, act, tickets.get(store, job.ticket_id), handed)
    rows = bills.payments(store, job.ticket_id)[1:]
    assert [(one.amount_minor, one.method, one.tip_minor) for one in rows] == [
        (4000, "card", 500),
        (2000, "cash", 0),
    ]


def test_more_than_the_balance_is_asked_about(store: Store, act: Act, job):
    ticket = tickets.get(store, job.ticket_id)
    handed = Handover(frozenset(), act.at, "Ada", 5000, "cash", second_minor=1001, above=False)
    with pytest.raises(BadInput, match="more than the balance") as error, store.write_tx():
        take_money(store, act, ticket, handed)
    assert error.value.field == "above"
    assert len(bills.payments(store, job.ticket_id)) == 1
