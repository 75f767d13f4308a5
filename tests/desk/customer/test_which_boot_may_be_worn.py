"""Of each boot whether to wear it, said only where the two differ."""

from __future__ import annotations

from dataclasses import replace

from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.which_boot_may_be_worn import boot_lines, called_off
from fitcounter.store import items, wears
from fitcounter.store.database import Store


def test_nothing_is_said_of_a_pair_that_is_at_home(store: Store, home) -> None:
    things, plan = items.of_ticket(store, home.ticket_id), wears.get(store, home.ticket_id)[1]
    assert boot_lines(things, plan, speech("en")) == ()
    assert called_off(things, plan, speech("en")) == ""
    assert boot_lines(things, replace(plan, boots="left"), speech("en")) == (
        "This calendar is for your left boot alone.",
    )


def test_a_calendar_on_hold_lets_no_boot_be_worn(store: Store, home) -> None:
    plan = wears.get(store, home.ticket_id)[1]
    with store.write_tx():
        store.change("items", home.left, state="queued")
    things = items.of_ticket(store, home.ticket_id)
    said = boot_lines(things, replace(plan, held_since=plan.picked_up), speech("en"))
    assert said[1] == "Your right boot: leave it off until both are at home."
