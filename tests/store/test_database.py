"""The one place that begins a write: all or nothing, once, and chained."""

from __future__ import annotations

import re
import threading
import tracemalloc
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.paths import CHECKOUT

from fitcounter.desk import shop
from fitcounter.desk.bench import board
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.errors import BadInput, Conflict, NoRoom, Unavailable
from fitcounter.store import audit_key, integrity
from fitcounter.store.database import (
    FIRST_HASH,
    Act,
    Store,
    Written,
    audit_hash,
    dbapi,
    utc_text,
    utc_time,
    wal_is_safe,
)
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


def act(submission: str | None = "submission-1", body: str = "same") -> Act:
    return Act(NOW, None, None, submission, body)


def put(store: Store, label: str) -> Written:
    return Written(row_id=store.insert("trees", label=label, side="left"))


def test_a_repeat_of_a_submission_gives_the_first_result_and_writes_nothing(store: Store):
    first = store.once(act(), "tree", lambda: put(store, "4"))
    again = store.once(act(), "tree", lambda: put(store, "5"))

    assert again.row_id == first.row_id
    assert [row["label"] for row in store.rows("SELECT label FROM trees")] == ["4"]


def test_the_same_submission_with_other_words_is_refused(store: Store):
    store.once(act(), "tree", lambda: put(store, "4"))

    with pytest.raises(Conflict):
        store.once(act(body="other"), "tree", lambda: put(store, "5"))


def test_a_submission_id_out_of_shape_is_refused_with_a_sentence(store: Store):
    for bad in ("short", "x" * 65, "with space 1", "null\x00null"):
        with pytest.raises(BadInput):
            store.once(act(bad), "tree", lambda: put(store, "4"))


def test_a_write_that_fails_in_the_middle_leaves_nothing(store: Store):
    before = store.value("SELECT count(*) FROM audit")

    def work() -> Written:
        put(store, "4")
        raise BadInput("no")

    with pytest.raises(BadInput):
        store.once(act(), "tree", work)
    assert store.value("SELECT count(*) FROM trees") == 0
    assert store.value("SELECT count(*) FROM submissions WHERE id = 'submission-1'") == 0
    assert store.value("SELECT count(*) FROM audit") == before


def test_a_full_disk_is_said_and_nothing_is_written(store: Store):
    store.db.execute(f"PRAGMA max_page_count = {store.value('PRAGMA page_count')}")

    def work() -> Written:
        for n in range(500):
            store.insert("trees", label=f"tree {n} " + "x" * 500, side="left")
        return Written()

    with pytest.raises(NoRoom):
        store.once(act(), "trees", work)
    assert store.value("SELECT count(*) FROM trees") == 0


def test_a_locked_file_is_said_within_the_waiting_time(store: Store, tmp_path: Path):
    other = open_store(tmp_path / "shop.db")
    other.db.execute("PRAGMA busy_timeout = 10")
    with store.write_tx(), pytest.raises(Unavailable):
        other.once(act(), "tree", lambda: put(other, "4"))
    other.close()


def test_a_version_that_somebody_else_moved_on_is_a_conflict(store: Store):
    row_id = store.once(act(), "tree", lambda: put(store, "4")).row_id or 0
    with store.write_tx():
        store.change("trees", row_id, 1, note="first")

    with pytest.raises(Conflict), store.write_tx():
        store.change("trees", row_id, 1, note="second")
    assert store.value("SELECT note FROM trees WHERE id = ?", row_id) == "first"


def test_two_that_save_one_name_get_one_row_and_one_conflict(store: Store):
    store.once(act("submission-1"), "tree", lambda: put(store, "4"))

    with pytest.raises(Conflict):
        store.once(act("submission-2"), "tree", lambda: put(store, "4"))


def test_read_then_write_by_many_threads_never_fails_for_the_lock(store: Store, tmp_path: Path):
    store.once(
        act(),
        "tree",
        lambda: Written(
            row_id=store.insert("trees", label="4", side="left", closed_setting_milli=0)
        ),
    )
    errors: list[Exception] = []

    def count_up() -> None:
        own = open_store(tmp_path / "shop.db")
        try:
            for _ in range(15):
                with own.write_tx():
                    held = own.value("SELECT closed_setting_milli FROM trees")
                    own.db.execute("UPDATE trees SET closed_setting_milli = ?", [held + 1])
        except Exception as error:  # collected, because a thread's error fails no test
            errors.append(error)
        own.close()

    threads = [threading.Thread(target=count_up) for _ in range(4)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert errors == []
    assert store.value("SELECT closed_setting_milli FROM trees") == 60


def test_the_audit_is_a_chain_that_cannot_be_changed_or_shortened(store: Store):
    store.once(act(), "tree", lambda: put(store, "4"))
    previous, key = FIRST_HASH, audit_key.of_folder(store.path.parent)
    assert key is not None
    for row in store.rows("SELECT * FROM audit ORDER BY id"):
        own = {
            name: row[name]
            for name in ("at", "staff_id", "phone_id", "what", "ticket_id", "item_id", "detail")
        }
        assert row["previous_hash"] == previous
        assert row["hash"] == audit_hash(previous, own, key.key)
        previous = row["hash"]

    for sql in ("UPDATE audit SET what = 'x'", "DELETE FROM audit"):
        with pytest.raises(dbapi.IntegrityError):
            store.db.execute(sql)


@pytest.mark.parametrize(
    ("version", "safe"),
    [
        ((3, 40, 1), False),
        ((3, 44, 6), True),
        ((3, 44, 5), False),
        ((3, 50, 7), True),
        ((3, 50, 6), False),
        ((3, 51, 2), False),
        ((3, 51, 3), True),
        ((3, 53, 4), True),
    ],
)
def test_the_log_is_used_only_on_a_build_without_its_reset_bug(
    version: tuple[int, ...], safe: bool
):
    assert wal_is_safe(version) is safe


def test_no_list_of_today_looks_through_every_ticket_there_ever_was(store: Store):
    """Each statement of the front desk's and the bench's lists finds its rows by an index."""
    asked: list[str] = []
    store.db.conn.set_trace_callback(asked.append)
    here = shop.read(store)
    rows = ticket_rows.open_rows(store, here, here.today(NOW))
    front_desk_today.desk_lists(store, here, rows, NOW)
    board.board(store, here, NOW)
    store.db.conn.set_trace_callback(None)
    large = {
        "tickets",
        "items",
        "rounds",
        "turns",
        "customers",
        "steps",
        "price_lines",
        "payments",
        "calls",
    }
    plans = {
        sql: [str(one["detail"]) for one in store.rows(f"EXPLAIN QUERY PLAN {sql}")]
        for sql in asked
        if sql.lstrip().startswith("SELECT")
    }
    assert len(plans) > 8
    scans = [
        (sql, line)
        for sql, lines in plans.items()
        for line in lines
        if line.startswith("SCAN") and line.split()[1] in large and "INDEX" not in line
    ]
    assert scans == []


def test_instants_are_kept_to_the_second_and_come_back():
    assert utc_text(NOW) == "2026-03-17T14:00:00Z"
    assert utc_time(utc_text(NOW)) == NOW


def test_only_one_place_begins_a_transaction():
    root = CHECKOUT / "fitcounter"
    words = re.compile(r"atomic\(|\bBEGIN\b(?! SELECT RAISE)|\.commit\(")
    no_code = re.compile(r'"""(?s:.*?)"""|CREATE TRIGGER[^"]*\bBEGIN\b')
    texts = {path.name: no_code.sub("", path.read_text()) for path in root.rglob("*.py")}
    found = {name for name, text in texts.items() if words.search(text)}
    assert found <= {"database.py"}


def test_the_audit_is_followed_a_row_at_a_time(store: Store):
    """After some years it has millions of rows, and every copy reads it: what is held meanwhile
    does not grow with it.
    """
    with store.write_tx():
        for n in range(5000):
            store.audit(Act(NOW), f"a row of the audit, {n}", Written(detail={"words": "x" * 200}))
    tracemalloc.start()
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) is None
    held_bytes = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert held_bytes < 200_000
