"""Erased is gone, to the last byte, and stays gone; what was done to the boots stays."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from desk.data.customer_to_erase import CANARY, customer_in_every_column, customer_of, found
from support.cast import Clock
from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.desk.customer import details as customer_details
from fitcounter.desk.data import copy_and_bring_back, erasure, machine_clock
from fitcounter.errors import BadInput, Conflict, NotFound, Unavailable
from fitcounter.store import audit_key, erased_list, integrity
from fitcounter.store.database import Act, Store, journal
from fitcounter.store.opening import open_store

BY_LOG = journal()[0] == "wal"


@pytest.fixture
def hers(store: Store, act: Act) -> Job:
    return customer_in_every_column(store, act)


def test_not_a_byte_is_left_in_the_file_its_log_or_the_pictures(
    store: Store, act: Act, hers: Job, tmp_path: Path
):
    written = "shop.db-wal" if BY_LOG else "shop.db"
    assert {written, "p.jpg", "s.png"} <= set(found(tmp_path)), "the test would see it"
    proof = erasure.erase(store, act, customer_of(store, hers), f" {CANARY.lower()} ")
    assert found(tmp_path) == {}
    assert (proof.searched.hits, proof.unswept) == (0, False)
    assert proof.searched.bytes > 100_000
    assert "not one byte" in proof.words
    assert store.db.execute("PRAGMA foreign_key_check").fetchall() == []


def test_what_was_put_right_goes_with_her_and_so_does_what_stood_there_before(
    store: Store, act: Act, hers: Job, tmp_path: Path
):
    new = customer_details.Details(
        "Wilhelmine Xanadu", "(412) 555-0177", "wilhelmine@example.org", "es", "Xanadu calls back"
    )
    customer_details.put_right(
        store,
        replace(act, submission_id="put-right-1"),
        shop.read(store),
        hers.ticket_id,
        new,
    )
    assert (
        store.value("SELECT email FROM customers WHERE id = ?", customer_of(store, hers))
        == new.email
    )
    proof = erasure.erase(store, act, customer_of(store, hers), new.name)
    left = [
        path.name
        for path in tmp_path.iterdir()
        if path.is_file() and b"xanadu" in path.read_bytes().lower()
    ]
    assert (found(tmp_path), left, proof.searched.hits) == ({}, [], 0)
    assert [row["words"] for row in store.rows("SELECT words FROM drafts")] == ["Somebody Else"]
    row = store.rows("SELECT * FROM customers WHERE id = ?", customer_of(store, hers))[0]
    assert [
        row[name]
        for name in (
            "name",
            "name_key",
            "phone_typed",
            "phone_e164",
            "phone_last4",
            "email",
            "note",
        )
    ] == ["erased", *[""] * 6]
    with pytest.raises(NotFound, match="erased"):
        customer_details.put_right(store, act, shop.read(store), hers.ticket_id, new)


def test_tickets_rounds_money_and_audit_stay_without_a_name(store: Store, act: Act, hers: Job):
    before = int(store.value("SELECT count(*) FROM audit"))
    erasure.erase(store, act, customer_of(store, hers), CANARY)
    assert store.value("SELECT count(*) FROM rounds") == 1
    assert store.value("SELECT sum(amount_minor) FROM payments") == 3001
    assert store.value("SELECT name FROM customers WHERE erased_at IS NOT NULL") == "erased"
    assert store.value("SELECT count(*) FROM erasures") == 1
    assert store.value("SELECT count(*) FROM audit") == before + 1
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) is None
    assert [row["words"] for row in store.rows("SELECT words FROM drafts")] == ["Somebody Else"]


def test_nobody_is_erased_while_a_ticket_is_open_or_by_another_name(
    store: Store, act: Act, hers: Job, tmp_path: Path
):
    customer = customer_of(store, hers)
    with pytest.raises(BadInput, match="Not the same name"):
        erasure.erase(store, act, customer, "Zanzibarina")
    with store.write_tx():
        store.change("tickets", hers.ticket_id, state="open")
    before = integrity.content_hash(store)
    with pytest.raises(Conflict, match="still open"):
        erasure.erase(store, act, customer, CANARY)
    assert integrity.content_hash(store) == before
    assert (tmp_path / "photos" / "p.jpg").exists()
    assert not (tmp_path / "erased.jsonl").exists()


def test_erasing_sent_twice_is_done_once_and_later_there_is_nobody_to_erase(
    store: Store, act: Act, hers: Job
):
    customer, twice = customer_of(store, hers), replace(act, submission_id="erase-once-1")
    erasure.erase(store, twice, customer, CANARY)
    erasure.erase(store, twice, customer, CANARY)
    assert store.value("SELECT count(*) FROM erasures") == 1
    with pytest.raises(NotFound, match="already"):
        erasure.erase(store, act, customer, CANARY)


@pytest.mark.parametrize("machine", ["the same", "another, from the copies alone"])
def test_an_older_copy_that_is_brought_back_brings_nobody_back(
    store: Store, act: Act, hers: Job, tmp_path: Path, clock: Clock, machine: str
):
    copies = tmp_path / "copies"
    copy = copy_and_bring_back.make_copy(tmp_path, copies, clock.now)
    assert (copies / "photos" / "p.jpg").exists()
    clock.on(days=1)
    erasure.erase(store, Act(clock.now), customer_of(store, hers), CANARY)
    copy_and_bring_back.make_copy(tmp_path, copies, clock.now)
    assert not (copies / "photos" / "p.jpg").exists(), "no copy keeps her pictures"
    store.close()
    target = tmp_path if machine == "the same" else tmp_path / "new machine"
    assert "Erased again: 1" in copy_and_bring_back.bring_back(copy.path, target, clock.on(hours=1))
    assert found(target) == {}
    back = open_store(target / "shop.db")
    machine_clock.confirm(back, Act(clock.on(days=36)))
    back.close()
    copy_and_bring_back.make_copy(target, None, clock.now)
    assert list(target.glob("before-restore-*")) == [], "what was moved aside goes as old copies go"


def test_somebody_who_got_the_same_id_in_an_older_copy_is_not_erased(
    store: Store, act: Act, hers: Job, tmp_path: Path, clock: Clock
):
    customer = customer_of(store, hers)
    erasure.erase(store, act, customer, CANARY)
    with store.write_tx():
        store.change(
            "customers",
            customer,
            name="Another Person",
            created_at="2026-05-01T00:00:00Z",
            erased_at=None,
        )
    assert erasure.erase_again(store, tmp_path, clock.now) == 0
    assert store.value("SELECT name FROM customers WHERE id = ?", customer) == "Another Person"


def test_the_list_is_read_past_a_line_that_a_power_cut_left_half(
    store: Store, act: Act, hers: Job, tmp_path: Path, clock: Clock
):
    (tmp_path / "erased.jsonl").write_text('[7, "2026-0')
    erasure.erase(store, act, customer_of(store, hers), CANARY)
    assert [line.customer_id for line in erased_list.noted(tmp_path)] == [customer_of(store, hers)]


@pytest.mark.skipif(
    not BY_LOG, reason="this SQLite keeps no log: whoever reads keeps every write out"
)
def test_while_somebody_reads_it_is_said_and_the_next_copy_sweeps(
    store: Store, act: Act, hers: Job, tmp_path: Path, clock: Clock
):
    reader = open_store(tmp_path / "shop.db")
    reader.db.execute("BEGIN")
    reader.value("SELECT count(*) FROM customers")
    store.db.execute("PRAGMA busy_timeout=50")
    proof = erasure.erase(store, act, customer_of(store, hers), CANARY)
    assert proof.unswept
    assert "next copy" in proof.words
    reader.db.execute("COMMIT")
    reader.close()
    copy_and_bring_back.make_copy(tmp_path, tmp_path / "copies", clock.now)
    assert found(tmp_path) == {}


@pytest.mark.skipif(BY_LOG, reason="this SQLite keeps a log: whoever reads keeps no write out")
def test_while_somebody_reads_a_file_without_a_log_nothing_is_erased_by_halves(
    store: Store, act: Act, hers: Job, tmp_path: Path
):
    reader, before = open_store(tmp_path / "shop.db"), integrity.content_hash(store)
    reader.db.execute("BEGIN")
    reader.value("SELECT count(*) FROM customers")
    store.db.execute("PRAGMA busy_timeout=50")
    with pytest.raises(Unavailable):
        erasure.erase(store, act, customer_of(store, hers), CANARY)
    reader.db.execute("COMMIT")
    reader.close()
    assert integrity.content_hash(store) == before
    assert not erasure.erase(store, act, customer_of(store, hers), CANARY).unswept
    assert found(tmp_path) == {}


def test_photos_go_after_their_days_and_legs_after_their_months(
    store: Store, act: Act, hers: Job, tmp_path: Path, clock: Clock
):
    with store.write_tx():
        store.change("tickets", hers.ticket_id, handed_over_at="2026-03-17T14:00:00Z")
    clock.on(days=90)
    assert erasure.tidy(store, tmp_path, tmp_path / "copies", clock.now) == {
        "photos": 0,
        "readings": 0,
    }
    machine_clock.confirm(store, Act(clock.on(seconds=1)))
    copy_and_bring_back.make_copy(tmp_path, None, clock.now)
    assert not (tmp_path / "photos" / "p.jpg").exists()
    assert (tmp_path / "signatures" / "s.png").exists(), "what she signed stays"
    assert store.value("SELECT count(*) FROM leg_readings") == 300
    clock.on(days=24 * 31)
    assert erasure.tidy(store, tmp_path, tmp_path / "copies", clock.now)["readings"] == 301
    assert store.value("SELECT count(*) FROM leg_readings") == 0
    assert b"CANARY 17" not in (tmp_path / "shop.db").read_bytes()


def test_nothing_of_an_open_ticket_is_tidied_away(
    store: Store, act: Act, hers: Job, tmp_path: Path, clock: Clock
):
    with store.write_tx():
        store.change("tickets", hers.ticket_id, handed_over_at="2026-03-17T14:00:00Z", state="open")
    assert erasure.tidy(store, tmp_path, tmp_path / "copies", clock.now + timedelta(days=2000)) == {
        "photos": 0,
        "readings": 0,
    }


def locks_of(path: Path) -> list[str]:
    """The POSIX locks that this process holds on a file or its log's index (proc(5))."""
    inodes = {
        str(side.stat().st_ino)
        for side in (path, Path(f"{path}-shm"), Path(f"{path}-wal"))
        if side.exists()
    }
    return sorted(
        " ".join(fields[1:4] + fields[5:])
        for fields in map(str.split, Path("/proc/locks").read_text().splitlines())
        if fields[1] == "POSIX"
        and fields[4] == str(os.getpid())
        and fields[5].rpartition(":")[2] in inodes
    )


@pytest.mark.skipif(
    not BY_LOG or not Path("/proc/locks").exists(), reason="needs a log and the kernel's list"
)
def test_erasing_drops_no_lock_so_that_no_later_save_is_lost(
    store: Store, act: Act, hers: Job, tmp_path: Path
):
    """Another program would take the log of a file without locks for left behind, and remove it."""
    stays = Store(tmp_path / "shop.db")
    stays.value("SELECT count(*) FROM settings")
    before = locks_of(tmp_path / "shop.db")
    erasure.erase(store, act, customer_of(store, hers), CANARY)
    assert before
    assert locks_of(tmp_path / "shop.db") == before
    (tmp_path / "shop.db").read_bytes()
    assert locks_of(tmp_path / "shop.db") != before, "the test would see it"
    stays.close()
