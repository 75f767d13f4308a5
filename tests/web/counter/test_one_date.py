"""The wedding: a boot promised for the 10th that the plan has on a later day. Every place that is
asked names the same new day, and late jobs are counted alike.
"""

from __future__ import annotations

import re
from datetime import date

import pytest
from support.bench_cast import SLIPS, Pair, late_pair, pair
from support.cast import Clock, Counter

from fitcounter.desk import shop
from fitcounter.desk.bench import plan_page
from fitcounter.desk.common import link_token
from fitcounter.desk.common.translation import speech
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.plan import plan_keeping
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def late(store: Store, clock: Clock) -> Pair:
    return late_pair(store, Act(clock.now))


def new_day(store: Store, late: Pair, clock: Clock) -> date:
    here = shop.read(store)
    ticket = tickets.get(store, late.ticket_id)
    when = ticket_rows.row_of(store, ticket, here, here.today(clock.now)).when
    assert when.late
    assert when.day is not None
    assert when.day > date.fromisoformat(SLIPS)
    return when.day


def test_every_place_names_the_one_new_day(
    counter: Counter, stranger: Counter, store: Store, late: Pair, clock: Clock, tmp_path
):
    day = new_day(store, late, clock)
    short = speech("en_US").day(day)
    miss = f"will miss Sat, Mar 28: now {short}"
    for path in (
        "/",
        "/find?q=41",
        f"/tickets/{late.ticket_id}",
        f"/tickets/{late.ticket_id}/call",
        f"/items/{late.left}",
        f"/pickup/{late.ticket_id}",
    ):
        page = " ".join(counter.get(path).text.split())
        assert miss.lower() in page.lower(), path
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, late.ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            late.ticket_id,
            link_hash=link_token.link_hash(made),
            link_until="2027-12-31T00:00:00Z",
        )
    page = " ".join(stranger.get(f"/c/{made}").text.split())
    assert f"Everything should be ready on {short}." in page
    assert "before, we said Sat, Mar 28" in page
    here = shop.read(store)
    check = documents_ticket.claim_check(
        store, here, late.ticket_id, "https://bench.example", tmp_path, clock.now
    )
    assert check.ready_on == day
    (job,) = evening_sheet.evening(store, here, clock.now).jobs
    assert job.late
    assert miss in job.state


def test_late_jobs_are_counted_alike_by_today_the_plan_and_the_evening_sheet(
    counter: Counter, store: Store, late: Pair, clock: Clock
):
    """Beside a pair that is on track, and a bag whose day has passed."""
    second = pair(store, Act(clock.now), number=42, name="Second Person")
    third = pair(store, Act(clock.now), number=43, name="Third Person", state="shelved")
    with store.write_tx():
        store.change("tickets", second.ticket_id, promise_day="2026-08-29")
        bag = {"ticket_id": third.ticket_id, "letter": "B", "kind": "bag", "work": "other"}
        bag["description"] = "tan bag"
        since = "2026-03-10T14:00:00Z"
        store.insert("items", **bag, state="queued", since=since, promised_day="2026-03-12")
    plan_keeping.renew(store, Act(clock.now))
    here = shop.read(store)
    rows = ticket_rows.open_rows(store, here, here.today(clock.now))
    today = [
        row.ticket.number for row in front_desk_today.desk_lists(store, here, rows, clock.now).late
    ]
    plan = [one.row.number for one in plan_page.plan_page(store, here, clock.now).late]
    evening = [
        int(job.number) for job in evening_sheet.evening(store, here, clock.now).jobs if job.late
    ]
    assert sorted(today) == sorted(plan) == sorted(evening) == [41, 43]
    assert re.search(r'id="l-late">Late <span class="count">2<', counter.get("/").text)


def test_the_customer_told_on_the_call_page_reads_both_days(
    counter: Counter, stranger: Counter, store: Store, late: Pair, clock: Clock, tmp_path
):
    """One tap: the new day stands in its field already."""
    day = new_day(store, late, clock)
    path = f"/tickets/{late.ticket_id}/call"
    assert path in counter.get("/").text
    page = counter.get(path).text
    assert f'value="{day.isoformat()}"' in page
    refused = counter.post(path, how="called", new_day="2026-04-26")
    assert (refused.status_code, "closed on Sun, Apr 26" in refused.text) == (422, True)
    counter.get(path)
    assert counter.post(path, how="called", new_day=day.isoformat()).status_code == 303
    assert tickets.get(store, late.ticket_id).promise_day == day.isoformat()
    assert path not in counter.get("/").text
    shown = " ".join(counter.get(f"/tickets/{late.ticket_id}").text.split())
    short = speech("en_US").day(day)
    assert f"on track for {short}; before, Saturday, March 28" in shown
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, late.ticket_id))
    with store.write_tx():
        hashed = link_token.link_hash(made)
        store.change("tickets", late.ticket_id, link_hash=hashed, link_until="2027-12-31T00:00:00Z")
    page = stranger.get(f"/c/{made}").text
    assert f"Everything should be ready on {short}." in page
    assert "We are sorry: before, we said Sat, Mar 28." in page


def test_a_bag_that_is_ready_does_not_lend_its_day_to_the_boots(
    counter: Counter, store: Store, late: Pair, clock: Clock
):
    """The promised day of a ticket is the first that is still to be kept."""
    row = {"ticket_id": late.ticket_id, "letter": "B", "kind": "bag", "work": "other"}
    row |= {"description": "tan bag", "since": "2026-03-10T14:00:00Z"}
    with store.write_tx():
        bag = store.insert("items", **row, state="queued", promised_day="2026-03-20")
    page = " ".join(counter.get(f"/tickets/{late.ticket_id}").text.split())
    assert "<dt>Promised day</dt><dd>Friday, March 20" in page
    with store.write_tx():
        store.change("items", bag, state="shelved", shelf="C2")
    page = " ".join(counter.get(f"/tickets/{late.ticket_id}").text.split())
    assert "<dt>Promised day</dt><dd>Saturday, March 28" in page
