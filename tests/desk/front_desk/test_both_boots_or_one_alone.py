"""Which boots a calendar begins with."""

from __future__ import annotations

from fitcounter.desk.front_desk.both_boots_or_one_alone import boots_to_wear_in
from fitcounter.store import items
from fitcounter.store.database import Store


def test_a_boot_waits_for_the_other_unless_it_is_worn_in_alone(store: Store, job) -> None:
    held = items.of_ticket(store, job.ticket_id)
    left = [one for one in held if one.id == job.left]
    assert boots_to_wear_in(held, left, alone=False) == ([], "")
    assert boots_to_wear_in(held, left, alone=True) == (left, "left")
    assert boots_to_wear_in(held, held, alone=False)[1] == ""


def test_a_boot_that_could_not_be_done_is_not_waited_for(store: Store, job) -> None:
    with store.write_tx():
        store.change("items", job.right, state="declined")
    held = items.of_ticket(store, job.ticket_id)
    left = [one for one in held if one.id == job.left]
    assert boots_to_wear_in(held, left, alone=False) == (left, "left")
    assert boots_to_wear_in(held, [one for one in held if one.id == job.bag], alone=False)[0] == []
