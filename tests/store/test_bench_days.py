"""What a plan is made from is asked for by what is open: it costs the same however old the shop."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.store import bench_days, items, outcomes
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Act, Store

GROWS = ("items", "fits", "tickets", "rounds", "steps", "boot_readings", "leg_readings")


def asked(store: Store, question) -> list[str]:
    """How SQLite finds the rows of every statement that the question runs."""
    statements: list[str] = []
    store.db.conn.set_trace_callback(statements.append)
    try:
        question(store)
    finally:
        store.db.conn.set_trace_callback(None)
    ways = []
    for sql in statements:
        ways += [row[3] for row in store.db.conn.execute(f"EXPLAIN QUERY PLAN {sql}")]
    return ways


@pytest.mark.parametrize(
    "question",
    [
        items.open_boots,
        bench_days.stamps,
        outcomes.rounds_stamp,
        lambda store: bench_days.kept_plan(store, ("queued", "on-tree")).now,
        lambda store: bench_days.of_tickets(store, [1, 2]),
    ],
    ids=[
        "open boots",
        "their stamps",
        "the rounds that teach",
        "the whole fingerprint",
        "the days of some tickets",
    ],
)
def test_no_question_of_the_plan_walks_a_table_that_grows_with_the_years(store: Store, question):
    ways = asked(store, question)
    assert ways
    names = {*GROWS, *"iftrm"}
    walks = [
        way
        for way in ways
        if way.startswith("SCAN ") and way.split()[1] in names and "items_state" not in way
    ]
    assert walks == []


CHANGES = {
    "a boot's promised day": "UPDATE items SET promised_day = '2026-04-01' WHERE id = :left",
    "a ticket's promised day": "UPDATE tickets SET promise_day = '2026-04-01'",
    "most rounds of a pair": "UPDATE fits SET max_rounds = max_rounds - 1",
    "a reading": "INSERT INTO boot_readings (item_id, moment, height_um, height_text, girth_um,"
    " girth_text, unit, method, repeat, read_at) VALUES (:left, 'brought-in', 254000, '10', 368300,"
    " '14 1/2', 'in', 'inside', 1, '2026-03-14T13:10:00Z')",
    "a tree": "UPDATE trees SET version = version + 1",
    "a choice of the shop": "INSERT INTO settings (key, value) VALUES ('hold_h', '48')",
    "a closed day": "INSERT INTO closures (from_day, to_day, kind) VALUES ('2026-03-20',"
    " '2026-03-21', 'closed')",
    "the end of a closed time": "UPDATE closures SET to_day = '2026-03-29'",
    "other work done": "UPDATE work_lines SET state = 'done'",
    "days of other work": "UPDATE works SET days = days + 1",
    "a booking": "INSERT INTO bookings (tree_id, item_id, kind, round_n, from_day, to_day) SELECT"
    " id, :right, 'planned', 1, '2026-05-01', '2026-05-08' FROM trees",
    "a booking's end": "UPDATE bookings SET to_day = '2026-03-19'",
}


@pytest.mark.parametrize("change", CHANGES)
def test_each_of_what_a_plan_is_made_from_changes_its_fingerprint(store: Store, job: Job, change):
    def made_from() -> str:
        return bench_days.kept_plan(store, ("queued", "on-tree")).now

    with store.write_tx():
        tree = store.insert("trees", label="T1", side="either")
        store.insert(
            "bookings",
            tree_id=tree,
            item_id=job.left,
            kind="planned",
            round_n=1,
            from_day="2026-03-15",
            to_day="2026-03-22",
        )
        store.insert("closures", from_day="2026-03-25", to_day="2026-03-26", kind="closed")
        work = store.insert(
            "works", ticket_id=job.ticket_id, what="zip", timing="before", asked_at="2026-03-14"
        )
        store.insert("work_lines", work_id=work, item_id=job.left, since="2026-03-14")
    before = made_from()
    assert made_from() == before
    with store.write_tx():
        store.db.execute(CHANGES[change], {"left": job.left, "right": job.right})
    assert made_from() != before


def test_the_days_of_some_tickets_are_those_of_their_boots(store: Store, act: Act, job: Job):
    other = make_job(store, act, "Odile Marchetti")
    days = [
        BootDays(item, "", 1, 2, "4", None, None, 0, "[]", "")
        for item in (job.left, job.right, other.left)
    ]
    with store.write_tx():
        bench_days.replace_all(store, days)
    assert set(bench_days.of_tickets(store, [job.ticket_id])) == {job.left, job.right}
    both = bench_days.of_tickets(store, [job.ticket_id, other.ticket_id])
    assert both == bench_days.everything(store)
    assert bench_days.of_tickets(store, []) == {}
