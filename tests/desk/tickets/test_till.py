"""The till is counted against what should be there, closed once, and kept."""

from __future__ import annotations

import pytest
from support.cast import Clock

from fitcounter.desk.documents.closed_till import till_slip
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import payments, till
from fitcounter.desk.tickets.payments import Typed
from fitcounter.desk.tickets.till import Count
from fitcounter.errors import BadFields, BadInput, Conflict, NotFound
from fitcounter.store import bills
from fitcounter.store.database import Act, Store


@pytest.fixture
def day(store: Store, act: Act, job, clock: Clock) -> Act:
    """A deposit of before, and a day with cash, card, a tip, a refund and a correction."""
    clock.on(days=1)
    later = Act(clock.now, 1)
    for typed in (
        Typed("payment", "45.50", method="cash"),
        Typed("payment", "20", method="card", tip="2", above=True),
        Typed("refund", "10", "a scratch", method="cash"),
        Typed("correction", "-0.50", "45 was given", method="cash"),
    ):
        payments.write_down(store, later, job.ticket_id, typed)
    return later


def test_each_kind_has_what_should_be_there_and_tips_with_it(store: Store, choices: Shop, day: Act):
    page = till.look(store, choices, day.at, 10000)
    assert {one.method: one.expected_minor for one in page.lines} == {"cash": 13500, "card": 2200}
    assert (page.tips_minor, page.float_minor) == (200, 10000)


def test_it_is_closed_to_the_cent_and_begins_anew(store: Store, choices: Shop, day: Act):
    page = till.look(store, choices, day.at, 10000)
    count = Count({"cash": 13500, "card": 2200}, 10000, seen=page.seen)
    assert till.close(store, day, choices, count).words == "Right to the cent."

    (closed,) = till.latest(store)
    assert (closed.difference_minor, closed.who, closed.note) == (0, "CO", "")
    anew = till.look(store, choices, day.at)
    assert [(one.method, one.expected_minor, one.number) for one in anew.lines] == [
        ("cash", 10000, 0)
    ]


def test_a_difference_needs_a_note_and_prints_with_it(store: Store, choices: Shop, day: Act):
    page = till.look(store, choices, day.at, 0)
    short = {"cash": 3300, "card": 2200}
    with pytest.raises(BadInput, match=r"\$2.00 short. Count again") as error:
        till.close(store, day, choices, Count(short, 0, seen=page.seen))
    assert error.value.field == "note"
    till.close(store, day, choices, Count(short, 0, "two coins fell", page.seen))
    slip = till_slip(store, choices, till.latest(store)[0].id)
    assert (slip.difference, slip.note) == ("$2.00 short.", "two coins fell")
    assert [(one.kind, one.came_in, one.went_out, one.expected) for one in slip.lines] == [
        ("Cash", "$45.50", "−$10.50", "$35.00"),
        ("Card", "$22.00", "$0.00", "$22.00"),
    ]


def test_short_of_one_kind_and_over_in_another_is_not_right(store: Store, choices: Shop, day: Act):
    page = till.look(store, choices, day.at, 0)
    with pytest.raises(BadInput):
        till.close(store, day, choices, Count({"cash": 3400, "card": 2300}, 0, seen=page.seen))


def test_two_tills_closed_at_once_are_one(store: Store, choices: Shop, day: Act, job):
    seen = till.look(store, choices, day.at, 0).seen
    count = Count({"cash": 3500, "card": 2200}, 0, seen=seen)
    till.close(store, day, choices, count)
    with pytest.raises(Conflict, match="Count it once more"):
        till.close(store, day, choices, count)

    seen = till.look(store, choices, day.at, 0).seen
    with store.write_tx():
        bills.pay(store, day, job.ticket_id, "payment", 100, method="cash")
    with pytest.raises(Conflict):
        till.close(store, day, choices, Count({"cash": 0}, 0, seen=seen))
    assert len(till.latest(store)) == 1


def test_what_was_not_counted_is_asked_for(store: Store, choices: Shop, day: Act):
    page = till.look(store, choices, day.at, 0)
    with pytest.raises(BadFields) as error:
        till.close(store, day, choices, Count({"cash": 3500}, 0, seen=page.seen))
    assert set(error.value.sentences) == {"counted_card"}
    with pytest.raises(BadInput, match="card number"):
        till.close(store, day, choices, Count({}, 0, "4111 1111 1111 1111", page.seen))


def test_payments_of_before_say_that_nobody_said_how(store: Store, choices: Shop, act: Act, job):
    page = till.look(store, choices, act.at, 0)
    assert [(one.words, one.expected_minor) for one in page.lines] == [
        ("Cash", 0),
        ("Not said how", 3000),
    ]
    with pytest.raises(NotFound):
        till.closed(store, 99)
