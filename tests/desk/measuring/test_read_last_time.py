"""What was read when somebody was here before, beside a new sheet."""

from __future__ import annotations

import pytest
from support.measured_pair import BOOT, LEG, cells, measured_pair, sheet_of, take_in
from support.ticket_rows import make_job

from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.measuring.read_last_time import last_legs, last_time
from fitcounter.desk.measuring.sheet import SheetLine
from fitcounter.store import fits, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Ticket


@pytest.fixture
def before(store: Store, act: Act) -> tuple[int, int]:
    """An earlier ticket of the customer and its fit, measured."""
    return measured_pair(store, act)


def new_ticket(store: Store, act: Act, before: tuple[int, int], **columns: object) -> Ticket:
    ticket_id = make_job(store, act).ticket_id
    with store.write_tx():
        customer_id = tickets.get(store, before[0]).customer_id
        store.change("tickets", ticket_id, customer_id=customer_id, **columns)
    return tickets.get(store, ticket_id)


def test_the_readings_of_the_earlier_ticket_come_highest_first_as_typed(
    store: Store, act: Act, before: tuple[int, int]
) -> None:
    seen = last_time(store, new_ticket(store, act, before), "in")
    assert seen is not None
    assert (seen.ticket.id, seen.same_boots, seen.grew) == (before[0], False, ())
    assert [(one.height, one.boots) for one in seen.heights] == [
        ("14 1/2 in", ("14", "14")),
        ("12 1/2 in", ("13 5/8", "13 5/8")),
        ("10 1/2 in", ("12 7/8", "12 7/8")),
    ]
    assert {one.legs for one in seen.heights} == {("", "")}


def test_boots_that_came_back_say_what_they_gave_then(
    store: Store, act: Act, before: tuple[int, int]
) -> None:
    """Half an inch in one round, of an opening of an inch."""
    left, _ = fits.boots(store, before[1])
    with store.write_tx():
        round_id = store.insert(
            "rounds",
            item_id=left.id,
            n=1,
            method="inside",
            before_um=355_600,
            rested_um=368_300,
            rested_method="inside",
        )
        store.insert("turns", round_id=round_id, n=1, at="2026-03-10", girth_um=381_000)
    seen = last_time(store, new_ticket(store, act, before, returns_ticket_id=before[0]), "in")
    assert seen is not None
    assert seen.same_boots
    assert seen.grew == ("Left boot gave ½ in in 1 round; kept about half",)


def test_the_first_visit_has_nothing_to_compare_with(
    store: Store, act: Act, before: tuple[int, int]
) -> None:
    assert last_time(store, tickets.get(store, before[0]), "in") is None
    stranger = make_job(store, act, "Tobias")
    assert last_time(store, tickets.get(store, stranger.ticket_id), "in") is None


def test_legs_of_last_time_stand_at_the_heights_of_the_new_sheet(store: Store, act: Act) -> None:
    """As read where the height is the same, about where it lies between, nothing beyond."""
    fit_id = take_in(store, act)
    measuring_save.save(store, act, fit_id, sheet_of("leg", cells(leg=LEG, boot=BOOT)), Terms(), 1)
    before = (fits.get(store, fit_id).ticket_id, fit_id)
    seen = last_time(store, new_ticket(store, act, before), "in")
    assert seen is not None
    lines = tuple(SheetLine(height, "", False) for height in ("8 1/2", "11 1/2", "14 1/2", "", "x"))
    found = last_legs(seen, lines, "in")
    assert {name: one.words for name, one in found.items()} == {
        "leg_left_1": "about 13¾ in",
        "leg_right_1": "about 13¾ in",
        "leg_left_2": "14⅛ in",
        "leg_right_2": "14⅛ in",
    }
    assert found["leg_left_2"].girth_mm == pytest.approx(358.775)


def test_a_visit_by_the_gap_leaves_no_legs_to_compare(
    store: Store, act: Act, before: tuple[int, int]
) -> None:
    seen = last_time(store, new_ticket(store, act, before), "in")
    assert seen is not None
    assert last_legs(seen, (SheetLine("12 1/2", "", False),), "in") == {}
