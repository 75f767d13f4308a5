"""What answering "when is it ready?" and "can I promise a day?" costs on a bench of 40 boots.

`python tests/bench/answer_speed.py`

Ratios of processor time to the page of one boot in the same run. Exits 1 where answering "when?"
(the found row, the ticket) is over 1.2 × that page.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from flask.testing import FlaskClient
from support.bench_cast import pair, tree
from support.cast import PASSPHRASE, Clock, Counter

from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.settings import Settings
from fitcounter.store.database import Act
from fitcounter.store.opening import open_store
from fitcounter.web import create_app

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
PAIRS, TREES, MOST = 20, 12, 1.2
ASK = "/promise?leather=full-grain&short=5/8&sides=pair&needed=2026-04-10"


def fill(folder: Path) -> None:
    """Twenty pairs that wait for the bench, and twelve trees."""
    store = open_store(folder / "shop.db")
    store.db.execute("PRAGMA synchronous = OFF")
    store.follow_ups = ()
    row = {"name": "Odile", "initials": "OW", "role": "owner", "created_at": "2026-01-01T00:00:00Z"}
    with store.write_tx():
        store.insert("staff", **row, passphrase_hash=passphrase_and_pin.hash_secret(PASSPHRASE))
    for n in range(TREES):
        tree(store, str(n + 1), ("left", "right")[n % 2])
    for n in range(PAIRS):
        pair(store, Act(NOW), 41 + n, name=f"Customer {n}")
    plan_keeping.renew(store, Act(NOW))
    store.close()


def cost_ms(client: FlaskClient, path: str, times: int) -> float:
    """The median of this process's own work for the page, in ms, after one that warms it."""
    assert client.get(path).status_code == 200
    took = []
    for _ in range(times):
        began = time.process_time()
        client.get(path)
        took.append((time.process_time() - began) * 1000)
    return statistics.median(took)


def main() -> int:
    """Prints the figures; 1 where one is over."""
    with tempfile.TemporaryDirectory() as name:
        fill(Path(name))
        app = create_app(Settings(data_dir=Path(name), testing=True), Clock(NOW))
        client = Counter(app.test_client(), "OW").sign_in().client
        item = cost_ms(client, "/items/1", 25)
        over = 0
        for what, path in (("find", "/find?q=41"), ("ticket", "/tickets/1")):
            ratio = cost_ms(client, path, 25) / item
            over += ratio > MOST
            print(f"{what}: {ratio:.2f} × the item page of {item:.1f} ms (at most {MOST})")
        promise = cost_ms(client, ASK, 3)
        print(f"can I promise a day, {2 * PAIRS} boots: {promise:.0f} ms, {promise / item:.1f} ×")
    return min(over, 1)


if __name__ == "__main__":
    sys.exit(main())
