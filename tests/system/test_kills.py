"""kill -9 of the real server while phones save: what was answered is there, whole, once.

A kill says nothing of a power cut, which the kernel's own memory does not outlive; for that every
connection syncs at each commit.
"""

from __future__ import annotations

import shutil
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from support.cast import PASSPHRASE, Clock
from support.ticket_rows import make_job
from system.killed_shop import PHONES, KilledShop, Phone

from fitcounter.serving import server
from fitcounter.store import audit_key, integrity
from fitcounter.store.database import Act, Store

# below those that are lent to callers: nobody who calls while no server is there can be given it
PORT = 20_700


def run(data_dir: Path, ticket_id: int, kills: int, saves: int, seed: int) -> Counter[str]:
    """Kills and counts one shop, whose file nobody else has open: each start finds it as the kill
    left it.
    """
    port = server.free_port("127.0.0.1", PORT + seed)
    phones = [Phone(port, "CO", PASSPHRASE) for _ in range(PHONES)]
    with KilledShop(data_dir, port, phones, f"/tickets/{ticket_id}/call") as shop:
        shop.next()
        wait_until_open(phones[0])
        phones[0].sign_in()
        for one in phones:  # one session in several windows; its passphrase is asked for once
            one.cookie, one.token = phones[0].cookie, phones[0].token
        shop.run(kills, saves, seed)
    store = Store(data_dir / "shop.db")
    try:
        return figures(store, shop)
    finally:
        store.close()


def wait_until_open(phone: Phone) -> None:
    for _ in range(2000):
        try:
            phone.ask("GET", "/sign-in")
            return
        except OSError:
            time.sleep(0.01)
    raise AssertionError("the server never opened")


def figures(store: Store, shop: KilledShop) -> Counter[str]:
    stored = Counter(str(row["note"]) for row in store.rows("SELECT note FROM calls"))
    acknowledged = shop.tally.acknowledged
    lost = [note for note in acknowledged if not stored[note]]
    double = [note for note, times in stored.items() if times > 1]
    audited = int(store.value("SELECT count(*) FROM audit WHERE what = 'call'"))
    kept = int(store.value("SELECT count(*) FROM submissions WHERE id LIKE 'kill-%'"))
    half = max(audited, kept, stored.total()) - min(audited, kept, stored.total())
    assert (lost, half, double) == ([], 0, [])
    assert shop.tally.refused == []
    assert set(stored) == set(acknowledged), "every save was sent until it was answered"
    assert store.value("PRAGMA integrity_check") == "ok"
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) is None
    return Counter(
        {
            "kills": shop.kills,
            "acknowledged saves": len(acknowledged),
            "sent without an answer and sent again": shop.tally.unanswered,
        }
    )


@pytest.fixture
def ticket_id(store: Store, clock: Clock) -> int:
    """A ticket in a shop that is closed again."""
    made = make_job(store, Act(clock.now, 1), state="shelved").ticket_id
    store.close()
    return made


def test_what_was_answered_outlives_fifteen_kills(ticket_id: int, tmp_path: Path) -> None:
    print(run(tmp_path, ticket_id, kills=15, saves=60, seed=7))


@pytest.mark.slow
def test_what_was_answered_outlives_four_hundred_kills(
    ticket_id: int, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Two shops beside each other, as there are two cores."""
    other = tmp_path_factory.mktemp("other")
    shutil.copyfile(tmp_path / "shop.db", other / "shop.db")
    with ThreadPoolExecutor(2) as threads:
        runs = [
            threads.submit(run, folder, ticket_id, 200, 4000, seed)
            for seed, folder in enumerate((tmp_path, other))
        ]
        counted = runs[0].result() + runs[1].result()
    print(
        ", ".join(f"{count} {what}" for what, count in counted.items()),
        "0 lost, 0 half, 0 double",
        sep=": ",
    )
    assert counted["kills"] >= 400
    assert counted["acknowledged saves"] >= 8000
