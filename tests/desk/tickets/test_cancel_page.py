"""What cancelling would mean, before it is saved."""

from __future__ import annotations

import pytest
from support.bench_cast import tree

from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets.cancel_page import look
from fitcounter.errors import OutOfOrder
from fitcounter.store.database import Act, Store


def test_undone_nothing_is_charged(store: Store, choices: Shop, job):
    page = look(store, choices, job.ticket_id)
    assert (page.charge_minor, page.listed_minor, page.paid_minor) == (0, 9000, 3000)
    assert not page.half_done


def test_half_done_the_rounds_are_charged(store: Store, act: Act, choices: Shop, job):
    tree(store, "B4")
    put = put_on_turn_up_take_off.PutOn(tree="B4")
    put_on_turn_up_take_off.put_on(store, act, choices, job.left, StepInput(act.at), put)
    page = look(store, choices, job.ticket_id)
    assert page.half_done == {job.left}
    assert page.charge_minor == choices.round_minor


def test_for_one_boot_of_a_pair_a_person_says_the_price(store: Store, choices: Shop, job):
    assert look(store, choices, job.ticket_id, job.left).charge_minor is None


def test_what_is_ready_is_not_cancelled(store: Store, act: Act, choices: Shop, job):
    for item_id in (job.left, job.right):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    assert [one.id for one in look(store, choices, job.ticket_id).items] == [job.bag]
    catch_up(store, act, job.bag, "shelved", StepInput(act.at))
    with pytest.raises(OutOfOrder):
        look(store, choices, job.ticket_id)
