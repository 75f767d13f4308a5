"""A promise that slips is a call to make before it is late; told, it moves and the old day stays in
the history.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support.bench_cast import SLIPS, Pair, bag, late_pair
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.bench import board, incidents
from fitcounter.desk.common.item_words import stands
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import calls_and_reminders, ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.errors import BadInput
from fitcounter.store import bench_days, contacts, items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def late(store: Store, clock: Clock) -> Pair:
    return late_pair(store, Act(clock.now), needed_by="2026-04-01")


def row_of(store: Store, made: Pair, clock: Clock) -> ticket_rows.TicketRow:
    here = shop.read(store)
    return ticket_rows.row_of(
        store, tickets.get(store, made.ticket_id), here, here.today(clock.now)
    )


def to_call(store: Store, clock: Clock) -> list[int]:
    here = shop.read(store)
    rows = ticket_rows.open_rows(store, here, here.today(clock.now))
    lists = front_desk_today.desk_lists(store, here, rows, clock.now)
    return [row.ticket.id for row in lists.calls]


def text_of(store: Store, made: Pair, clock: Clock) -> str:
    row = row_of(store, made, clock)
    return calls_and_reminders.message(store, row, shop.read(store), clock.now).words


def told(store: Store, made: Pair, clock: Clock, how: str, new_day: date | None) -> None:
    act = Act(clock.on(minutes=5), 1)
    calls_and_reminders.keep(store, act, shop.read(store), made.ticket_id, how, new_day=new_day)


def test_a_slipping_promise_is_a_call_before_it_is_late_and_its_text_is_filled_in(
    store: Store, late: Pair, clock: Clock
):
    assert shop.read(store).today(clock.now) < date.fromisoformat(SLIPS)
    assert to_call(store, clock) == [late.ticket_id]
    text = text_of(store, late, clock)
    new = row_of(store, late, clock).when.day
    assert new is not None
    assert "We are sorry: it will not be ready on Sat, Mar 28." in text
    assert f"It will be ready on {new:%a, %b} {new.day}." in text
    assert "We know that you need it by Wed, Apr 1." in text
    assert "balance" not in text


@pytest.mark.parametrize("how", ["called", "text", "e-mail", "letter"])
def test_told_moves_the_promise_and_keeps_the_old_day(
    store: Store, late: Pair, clock: Clock, how: str
):
    new = row_of(store, late, clock).when.day
    told(store, late, clock, how, new)
    row = row_of(store, late, clock)
    assert (row.when.late, row.when.day) == (False, new)
    assert to_call(store, clock) == []
    (move,) = contacts.promise_moves(store, late.ticket_id)
    assert new is not None
    assert (move.moved_from, move.moved_to) == (SLIPS, new.isoformat())
    assert contacts.first_promise(store, row.ticket) == SLIPS
    assert plan_keeping.is_current(store), "the plan counts by the new day at once"


@pytest.mark.parametrize("how", ["no-answer", "left-word"])
def test_who_was_not_reached_keeps_the_old_promise_and_is_called_again(
    store: Store, late: Pair, clock: Clock, how: str
):
    told(store, late, clock, how, row_of(store, late, clock).when.day)
    assert row_of(store, late, clock).when.promised == date.fromisoformat(SLIPS)
    assert to_call(store, clock) == []
    clock.on(days=4)
    assert to_call(store, clock) == [late.ticket_id]


def test_a_second_slip_is_a_call_again_and_the_first_promise_is_remembered(
    store: Store, late: Pair, clock: Clock
):
    new = row_of(store, late, clock).when.day
    assert new is not None
    told(store, late, clock, "called", new)
    with store.write_tx():
        later = (new + timedelta(days=7)).isoformat()
        store.db.execute("UPDATE bench_days SET ready_day = ?, hope_day = ?", [later, later])
    assert to_call(store, clock) == [late.ticket_id]
    told(store, late, clock, "called", new + timedelta(days=7))
    assert contacts.first_promise(store, tickets.get(store, late.ticket_id)) == SLIPS
    assert len(contacts.promise_moves(store, late.ticket_id)) == 2


def test_no_closed_day_is_told(store: Store, late: Pair, clock: Clock):
    with pytest.raises(BadInput, match="The next open day is Tue, Apr 28"):
        told(store, late, clock, "called", date(2026, 4, 26))
    assert contacts.calls_of_ticket(store, late.ticket_id) == []


@pytest.mark.parametrize(
    ("state", "waits_for", "words"),
    [
        ("stopped", "", "We found a problem and stopped."),
        ("waiting", "customer", "Before we go on, we need your answer."),
        ("waiting", "part", "Your order is on hold. We will call you with a date."),
    ],
)
def test_a_stopped_boot_leaves_the_plan_has_no_day_and_asks_for_a_call(
    store: Store, late: Pair, clock: Clock, state: str, waits_for: str, words: str
):
    since = "2026-03-17T14:00:00Z"
    with store.write_tx():
        store.change("tickets", late.ticket_id, promise_day="2026-06-27")
        store.change("items", late.left, state=state, waits_for=waits_for, since=since)
    plan_keeping.renew(store, Act(clock.now))
    assert late.left not in bench_days.everything(store)
    row = row_of(store, late, clock)
    assert row.when.day is None
    assert to_call(store, clock) == [late.ticket_id]
    text = text_of(store, late, clock)
    assert words in text
    assert "balance" not in text
    assert "expect" not in text
    told(store, late, clock, "called", None)
    assert to_call(store, clock) == []
    assert tickets.get(store, late.ticket_id).promise_day == "2026-06-27"


def test_what_went_wrong_is_said_wherever_somebody_picks_up_the_phone_until_it_is_settled(
    store: Store, late: Pair, clock: Clock
):
    def said() -> set[str]:
        here, today = shop.read(store), shop.read(store).today(clock.now)
        (row,) = ticket_rows.open_rows(store, here, today)
        (waiting,) = board.board(store, here, clock.now).waiting
        assert "stitch" not in row.bare_words
        page = tickets_page.look(store, late.ticket_id).entries
        states = [one.state for one in page if one.item.id == late.left]
        return {row.words.split("; ")[0], stands(waiting.row, waiting.row.problem), *states}

    version = items.get(store, late.left).version
    step = StepInput(clock.now, version=version)
    incidents.stop(store, Act(clock.now), late.left, step, "a stitch hole opened.")
    words = "stopped by a problem: a stitch hole opened"
    assert said() == {words, f"left boot: {words}"}
    with store.write_tx():
        store.db.execute("UPDATE incidents SET settled_at = ?", ["2026-03-17T14:00:00Z"])
    assert said() == {"stopped by a problem", "left boot: stopped by a problem"}


@pytest.fixture
def alone(store: Store, clock: Clock) -> int:
    """A ticket with a bag alone, of which no plan knows, promised for Friday, March 20."""
    made = late_pair(store, Act(clock.now))
    bag(store, made.ticket_id)
    with store.write_tx():
        store.change("tickets", made.ticket_id, promise_day="2026-03-20")
        for one in (made.left, made.right):
            store.change("items", one, state="shelved", shelf="B2")
    plan_keeping.renew(store, Act(clock.now))
    return made.ticket_id


def test_what_no_plan_knows_is_a_call_an_open_day_before_its_promised_day(
    store: Store, alone: int, clock: Clock
):
    """Neither sooner nor, once it is finished, at all. Its day is Friday; today is Tuesday."""
    assert to_call(store, clock) == []
    clock.on(days=1)
    assert to_call(store, clock) == []
    clock.on(days=1)
    assert to_call(store, clock) == [alone]
    row = row_of(store, Pair(alone, 0, 0, 0), clock)
    assert row.when_words == "at risk: promised for Fri, Mar 20 and not ready yet"
    text = text_of(store, Pair(alone, 0, 0, 0), clock)
    assert "The rest is not ready yet." in text
    assert "it may not be ready on Fri, Mar 20. We will call you as soon as it is." in text
    with store.write_tx():
        store.change("items", row.items[-1].id, state="finished")
    assert to_call(store, clock) == []


def test_the_call_comes_on_the_last_open_day_before_a_closed_stretch(
    store: Store, alone: int, clock: Clock
):
    with store.write_tx():
        span = {"from_day": "2026-03-18", "to_day": "2026-03-19", "kind": "closed"}
        store.insert("closures", **span, why="")
    assert to_call(store, clock) == [alone]


def test_told_of_a_later_day_what_no_plan_knows_is_promised_for_it(
    store: Store, alone: int, clock: Clock
):
    clock.on(days=2)
    told(store, Pair(alone, 0, 0, 0), clock, "called", date(2026, 3, 24))
    assert tickets.get(store, alone).promise_day == "2026-03-24"
    assert to_call(store, clock) == []
