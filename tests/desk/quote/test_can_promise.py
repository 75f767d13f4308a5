"""Can I promise Friday? From the bench as it stands, before there is a ticket; nothing is saved."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from support.bench_cast import pair, tree
from support.cast import Clock
from support.measured_pair import BOOT, GAPS, cells, sheet_of
from support.new_jobs import boots, taken_in

from fitcounter.desk import shop
from fitcounter.desk.common import shop_days
from fitcounter.desk.intake.job_records import NewJob, Who
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.quote import agree, can_promise
from fitcounter.desk.quote.can_promise import PromiseAnswer, PromiseAsk, Whose
from fitcounter.desk.quote.offer import make_offer
from fitcounter.errors import BadInput, BadReading
from fitcounter.store import plans, promised_slots, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def bench(store: Store, clock: Clock) -> Store:
    """One tree a side, and a pair before the one that is asked about, promised to the day."""
    tree(store, "4")
    tree(store, "5", "right")
    made = pair(store, Act(clock.now))
    plan_keeping.renew(store, Act(clock.now))
    with store.write_tx():
        ready = store.value("SELECT max(ready_day) FROM bench_days")
        store.change("tickets", made.ticket_id, promise_day=ready)
    plan_keeping.renew(store, Act(clock.now))
    return store


def asked(store: Store, clock: Clock, **changes: object) -> PromiseAnswer:
    given = {"leather": "full-grain", "short": "3/8", "sides": "pair", "needed": None}
    ask = PromiseAsk(**{**given, **changes})  # type: ignore[arg-type]
    return can_promise.can_promise(store, shop.read(store), clock.now, ask)


def test_the_day_is_the_plan_s_and_nothing_is_saved(bench: Store, clock: Clock):
    before = bench.value("SELECT count(*) FROM bookings")
    found = asked(bench, clock)
    assert found.day is not None
    assert found.earliest is not None
    assert found.earliest <= found.day
    assert found.headline.startswith("Yes: promise ")
    assert (found.of_100, bench.value("SELECT count(*) FROM bookings")) == (None, before)
    with bench.write_tx():
        bench.insert("closures", from_day="2026-03-18", to_day="2026-04-30", why="", kind="closed")
    later = asked(bench, clock).day
    assert later is not None
    assert later > found.day


def test_not_by_then_says_both_days_how_likely_and_what_it_would_take(bench: Store, clock: Clock):
    day = asked(bench, clock).day
    assert day is not None
    found = asked(bench, clock, needed=day - timedelta(days=3))
    assert found.headline.startswith("Yes, but not by ")
    assert f"could be ready {day:%a, %b} {day.day}." in found.headline
    assert found.of_100 is not None
    assert found.of_100 < 80
    assert any(one.startswith("48 h on the tree: could be ready ") for one in found.helps)
    assert any(one.startswith("One more tree for each boot: ") for one in found.helps)
    in_time = asked(bench, clock, needed=day)
    assert in_time.headline == f"Yes, by {day:%a, %b} {day.day}."
    assert in_time.of_100 is not None
    assert in_time.of_100 >= 80


def test_what_is_no_leather_is_not_promised_at_all(bench: Store, clock: Clock):
    found = asked(bench, clock, leather="synthetic")
    assert (found.headline, found.day) == ("Better not", None)


@pytest.mark.parametrize(
    ("field", "typed"), [("leather", "cardboard"), ("sides", "both"), ("short", "a bit")]
)
def test_what_cannot_be_read_is_said_at_its_field(
    bench: Store, clock: Clock, field: str, typed: str
):
    with pytest.raises((BadInput, BadReading)) as refused:
        asked(bench, clock, **{field: typed})
    assert refused.value.field == field


def test_a_bench_without_trees_says_so(store: Store, clock: Clock):
    assert asked(store, clock, needed=date(2026, 4, 2)).headline == "No tree is free for them."


def test_days_are_kept_for_a_day_and_go_with_the_ticket_that_is_made_from_them(
    bench: Store, clock: Clock, tmp_path: Path
):
    here, act = shop.read(bench), Act(clock.now)
    before = asked(bench, clock)
    ask = PromiseAsk("supple-full-grain", "3/8", "pair", None)
    with pytest.raises(BadInput) as error:
        can_promise.keep_days(bench, act, here, ask, Whose(" "))
    assert error.value.field == "name"
    slot_id = can_promise.keep_days(bench, act, here, ask, Whose("Ada Quill", rush=True)).row_id
    kept = [one for one in plans.bookings(bench) if one.slot_id == slot_id]
    assert {one.slot_side for one in kept} == {"left", "right"}
    later = asked(bench, clock).day
    assert later is not None
    assert before.day is not None
    assert later > before.day, "their trees are taken"

    made = boots(material="supple-full-grain")
    job = NewJob(Who("Ada Quill"), made, rush=True, slot_id=slot_id)
    ticket_id, fit_id = taken_in(bench, act, job)
    sheet = sheet_of("gap", cells(gap=GAPS, boot=BOOT))
    measuring_save.save(bench, act, fit_id or 0, sheet, Terms(), None)
    offer = make_offer(bench, here, ticket_id, here.today(clock.now))
    said = agree.Agreed(offer.lines, "Ada Quill", offer.promise)
    agree.agree(bench, act, here, ticket_id, said, tmp_path)
    taken = [one for one in plans.bookings(bench) if one.kind == "planned"]
    items = {row["id"] for row in bench.rows("SELECT id FROM items WHERE fit_id = ?", fit_id)}
    firsts = {one.tree_id: one.from_day for one in reversed(kept)}
    assert {
        one.tree_id: one.from_day for one in taken if one.item_id in items and one.round_n == 1
    } == firsts
    assert promised_slots.everything(bench) == []
    assert tickets.get(bench, ticket_id).rush == 1


def test_days_that_were_kept_are_free_again_when_their_day_has_gone_by(bench: Store, clock: Clock):
    here, ask = shop.read(bench), PromiseAsk("full-grain", "3/8", "left", None)
    can_promise.keep_days(bench, Act(clock.now), here, ask, Whose("Ada Quill"))
    until = date.fromisoformat(promised_slots.everything(bench)[0].kept_until)
    assert shop_days.of_shop(bench, here).is_open(until)
    for day, held in ((1, 1), ((until - here.today(clock.now)).days + 1, 0)):
        plan_keeping.keep_today(bench, here, clock.now + timedelta(days=day))
        assert len(promised_slots.everything(bench)) == held
    assert not [one for one in plans.bookings(bench) if one.kind == "slot"]
