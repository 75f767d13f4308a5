"""Back again: a promise of its own, free or charged, and told of like any other."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from support.bench_cast import tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.aftercare import back_together
from fitcounter.desk.aftercare.back_together import BackTogether
from fitcounter.desk.common.translation import speech
from fitcounter.desk.front_desk import delays, ticket_rows
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.plan.ready_day import DayState
from fitcounter.errors import BadInput, BadReading
from fitcounter.store import bills, items, tickets, wears
from fitcounter.store.database import Act, Store


@pytest.fixture
def clear(store: Store, home, clock: Clock):
    """Two months after pickup, with a tree for each side."""
    tree(store, "4")
    tree(store, "5", "right")
    clock.on(days=60)
    return home


def back(store: Store, home, clock: Clock, *, charged: bool = False, **how: object) -> str:
    readings = {home.left: ("14 1/4", ""), home.right: ("14 1/4", "")}
    given = {"readings": readings, "keeps_wearing": False, **how}
    typed = BackTogether(clock.now, "tight again", charged=charged, unit="in", **given)
    act = Act(clock.now, 1)
    return back_together.come_back(store, act, shop.read(store), home.ticket_id, typed).words


def row_of(store: Store, home, clock: Clock) -> ticket_rows.TicketRow:
    here = shop.read(store)
    ticket = tickets.get(store, home.ticket_id)
    return ticket_rows.row_of(store, ticket, here, here.today(clock.now))


def test_both_are_promised_for_the_day_the_plan_has(store: Store, clear, clock: Clock):
    words = back(store, clear, clock)
    days = {items.get(store, one).promised_day for one in (clear.left, clear.right)}
    assert len(days) == 1
    promised = date.fromisoformat(days.pop() or "")
    assert promised > shop.read(store).today(clock.now)
    assert words.startswith("Left boot: The boot shrank back.")
    assert words.endswith(f"Promised for {speech('en_US').day(promised)}.")
    when = row_of(store, clear, clock).when
    assert (when.state, when.day) == (DayState.ON_TRACK, promised)


def test_a_comeback_that_slips_is_late_and_told_of_its_own_day(store: Store, clear, clock: Clock):
    back(store, clear, clock)
    promised = date.fromisoformat(items.get(store, clear.left).promised_day or "")
    with store.write_tx():
        store.change("trees", 1, state="repair")
        store.insert("closures", from_day="2026-05-18", to_day="2026-08-31", why="", kind="closed")
        store.change("trees", 1, state="sound")
    plan_keeping.renew(store, Act(clock.now))
    row = row_of(store, clear, clock)
    assert (row.when.late, row.when.promised) == (True, promised)
    assert delays.to_tell(row, shop.read(store).today(clock.now))
    said = " ".join(delays.sentences(row, speech("en_US"), alone=True))
    assert f"it will not be ready on {speech('en_US').day(promised)}" in said


@pytest.mark.parametrize(("charged", "amount"), [(True, 3000), (False, 0)])
def test_who_pays_stands_on_the_bill(store: Store, clear, clock: Clock, charged: bool, amount: int):
    before = len(bills.lines(store, clear.ticket_id))
    back(store, clear, clock, charged=charged)
    line = bills.lines(store, clear.ticket_id)[before]
    assert (line.what, line.amount_minor) == (back_together.LINES[charged], amount)


def test_one_boot_back_and_the_other_worn_on_keeps_the_calendar_for_that_one(
    store: Store, clear, clock: Clock
):
    readings = {clear.left: ("14 1/4", ""), clear.right: ("", "")}
    before = wears.of_ticket(store, clear.ticket_id)
    back(store, clear, clock, readings=readings, keeps_wearing=True)
    assert items.get(store, clear.right).state == "out"
    kept = wears.of_ticket(store, clear.ticket_id)
    assert before is not None
    assert kept is not None
    assert replace(kept, sequence=before.sequence, version=before.version, boots="") == before
    assert (kept.boots, kept.sequence) == ("right", before.sequence + 1)


def test_a_slip_in_one_boot_saves_neither(store: Store, clear, clock: Clock):
    readings = {clear.left: ("14 1/4", ""), clear.right: ("141/4", "")}
    with pytest.raises(BadReading) as refused:
        back(store, clear, clock, readings=readings)
    assert refused.value.field == f"boot-{clear.right}"
    assert items.get(store, clear.left).state == "out"
    with pytest.raises(BadInput, match="Measure each boot that is back"):
        back(store, clear, clock, readings={clear.left: ("", "")})
