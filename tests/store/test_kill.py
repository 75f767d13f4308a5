"""kill -9 of the real server while phones save: what was answered is there, whole, once.

A kill says nothing of a power cut, which the kernel's own memory does not outlive; for that every connection syncs at each commit.
"""

from __future__ import annotations

import time
from collections import Counter
from pathlib import Path

import pytest
from cast import PASSPHRASE
from killed_shop import PHONES, KilledShop, Phone
from tickets import make_job

from fitcounter import server
from fitcounter.store import content
from fitcounter.store.database import Act, Store


def run(store: Store, act: Act, data_dir: Path, kills: int, saves: int, life_s: float) -> str:
    """Kills, counts, and returns the figures in words."""
    job = make_job(store, act, state="shelved")
    port = server.free_port("127.0.0.1", 0)
    phones = [Phone(port, "CO", PASSPHRASE) for _ in range(PHONES)]
    with KilledShop(data_dir, port, phones, f"/tickets/{job.ticket_id}/call") as shop:
        shop.next()
        wait_until_open(phones[0])
        for one in phones:
            one.sign_in()
        shop.run(kills, saves, seed=7, life_s=life_s)
    return figures(store, shop)


def wait_until_open(phone: Phone) -> None:
    for _ in range(2000):
        try:
            phone.ask("GET", "/sign-in")
            return
        except OSError:
            time.sleep(0.01)
    raise AssertionError("the server never opened")


def figures(store: Store, shop: KilledShop) -> str:
    stored = Counter(str(row["note"]) for row in store.rows("SELECT note FROM calls"))
    acknowledged = shop.tally.acknowledged
    lost = [note for note in acknowledged if not stored[note]]
    double = [note for note, times in stored.items() if times > 1]
    audited = Counter(row["ticket_id"] for row in store.rows("SELECT ticket_id FROM audit WHERE what = 'call'")).total()
    kept = int(store.value("SELECT count(*) FROM submissions WHERE id LIKE 'kill-%'"))
    half = max(audited, kept, stored.total()) - min(audited, kept, stored.total())
    words = (
        f"{shop.kills} kills, {len(acknowledged)} acknowledged saves, {shop.tally.unanswered} sent without an answer and sent again: "
        f"{len(lost)} lost, {half} half, {len(double)} double"
    )
    assert (lost, half, double) == ([], 0, []), words
    assert shop.tally.refused == []
    assert set(stored) == set(acknowledged), "every save was sent until it was answered"
    assert store.value("PRAGMA integrity_check") == "ok"
    assert content.broken_link(store) is None
    return words


@pytest.fixture
def act(clock) -> Act:
    return Act(clock.now, 1)


def test_what_was_answered_outlives_fifteen_kills(store: Store, act: Act, tmp_path: Path):
    print(run(store, act, tmp_path, kills=15, saves=60, life_s=0.15))


@pytest.mark.slow
def test_what_was_answered_outlives_four_hundred_kills(store: Store, act: Act, tmp_path: Path):
    print(run(store, act, tmp_path, kills=400, saves=8000, life_s=0.7))
