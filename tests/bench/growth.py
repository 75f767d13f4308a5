"""What a shop costs as it grows old: `python tests/bench/growth.py [tickets ...]`, by itself 100,
10,000 and 100,000.

Finished tickets of a pair each, picked up over ten years, with readings of the tape, a round,
steps, an estimate and a payment, beside forty open ones with a deposit of today; the audit is left
short. Prints a table: processor time until the first byte of each page, of its downloads and of a
search, in ms; the size of the file, and what keeping it costs (`grown_file.py`). Exits 1 where a
page or download is over 300 ms. A million tickets take the generator twenty minutes and more.
"""

from __future__ import annotations

import re
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from filled_shop import shop
from flask.testing import FlaskClient
from grown_file import costs, seconds
from werkzeug.test import TestResponse

from fitcounter.store.database import Store

OPEN = 40
MOST_MS = 300.0
TIMES = 7
OF_CLOSED = (
    "INSERT INTO predictions (item_id, made_at, assessment, tier, likely, eight_in_ten,"
    " promise_day) SELECT id, '2020-01-01T00:00:00Z', '{}', 'stages', 1 + id % 2, 2, '2020-01-30'"
    " FROM items WHERE state = 'closed'",
    "INSERT INTO rounds (item_id, n, mark_um, before_um, on_at, due_off_at, off_at, rested_um,"
    " rested_at) SELECT id, 1, 304800, 355000, '2020-01-02T00:00:00Z', '2020-01-04T00:00:00Z',"
    " '2020-01-04T00:00:00Z', 361000 + id % 7 * 1000, '2020-01-05T00:00:00Z' FROM items"
    " WHERE state = 'closed'",
    "INSERT INTO turns (round_id, n, at, girth_um) SELECT id, 1, on_at, 372000 FROM rounds"
    " WHERE off_at IS NOT NULL",
    "INSERT INTO steps (item_id, step, happened_at, saved_at, from_state, to_state) SELECT i.id,"
    " s.step, '2020-01-06T00:00:00Z', '2020-01-06T00:00:00Z', s.a, s.b FROM items i, (SELECT"
    " 'shelve' AS step, 'finished' AS a, 'shelved' AS b UNION ALL SELECT 'try-on', 'shelved',"
    " 'shelved' UNION ALL SELECT 'hand-over', 'shelved', 'out') s WHERE i.state = 'closed'",
    "UPDATE tickets SET handed_over_at = strftime('%Y-%m-%dT12:00:00Z', '2026-03-16', '-' ||"
    " (id % 3650) || ' days') WHERE state = 'closed'",
    "INSERT INTO payments (ticket_id, at, kind, amount_minor, method) SELECT id, handed_over_at,"
    " 'payment', 9000, CASE id % 3 WHEN 0 THEN 'cash' ELSE 'card' END FROM tickets WHERE state ="
    " 'closed' ORDER BY handed_over_at",
    "UPDATE price_lines SET billed_at = (SELECT handed_over_at FROM tickets WHERE tickets.id ="
    " ticket_id AND state = 'closed')",
    "INSERT INTO payments (ticket_id, at, kind, amount_minor, method) SELECT id,"
    " '2026-03-17T13:00:00Z', 'deposit', 2000, 'cash' FROM tickets WHERE state = 'open'",
)


def grown(folder: Path, closed: int) -> FlaskClient:
    """Somebody signed in at a shop with so many finished tickets."""
    client, _ = shop(folder, closed, OPEN)
    store = Store(folder / "shop.db")
    with store.write_tx():
        for statement in OF_CLOSED:
            store.db.execute(statement)
    store.db.execute("ANALYZE")
    store.close()
    return client


def first_byte_ms(ask: Callable[[], TestResponse]) -> float:
    """Median processor time until the first byte of an answer."""
    taken = []
    for _ in range(TIMES):
        begun = time.process_time()
        answer = ask()
        next(iter(answer.response), b"")
        taken.append((time.process_time() - begun) * 1000)
        assert answer.status_code == 200, (answer.request.path, answer.status_code)
        answer.close()
    return statistics.median(taken[1:])


def waits(client: FlaskClient, closed: int) -> dict[str, float]:
    """Until the first byte of each page, and of the whole shop as a file, ms."""
    found = {
        name: first_byte_ms(partial(client.get, path, buffered=False))
        for name, path in pages(closed).items()
    }
    token = re.search(r'name="csrf_token" value="([^"]+)"', client.get("/shop/everything").text)
    sent = {"csrf_token": token.group(1) if token else ""}
    for kind in ("json", "csv"):
        found[f"whole shop, {kind}"] = begun_ms(client, f"/shop/everything/{kind}", sent)
    return found


def begun_ms(client: FlaskClient, path: str, sent: dict[str, str]) -> float:
    """Processor time until the file comes or the page that says how far it is; waits for the file
    before it returns.
    """
    begun = time.process_time()
    answer = client.post(path, data=sent, headers={"Accept": "text/html"}, buffered=True)
    taken = (time.process_time() - begun) * 1000
    assert answer.status_code in (200, 303), (path, answer.status_code)
    while answer.status_code == 303 and "http-equiv" in client.get(answer.location).text:
        time.sleep(1)
    return taken


def pages(closed: int) -> dict[str, str]:
    """Name → address, in the order of the table."""
    item = 2 * (closed + OPEN // 2) + 1
    return {
        "Today": "/",
        "search by a name": "/find?q=greta+ho",
        "search by four digits": "/find?q=0042",
        "item": f"/items/{item}",
        "ticket": f"/tickets/{max(1, closed // 2)}",
        "customer": f"/shop/customers/{max(1, closed // 2)}",
        "Bench": "/bench",
        "bench plan": "/bench/plan",
        "Pickup": "/pickup",
        "Book": "/book",
        "the book's file": "/book/said-and-took.csv",
        "till": "/till",
        "income by month": "/book/income?by=month",
        "income of a year": "/book/income?by=month&first=2025-03-17&last=2026-03-17",
        "figures of a month": "/book/figures?first=2026-02-01&last=2026-02-28",
        "figures of a year": "/book/figures?first=2025-03-17&last=2026-03-17",
        "billed work of a year": "/book/figures/work?first=2025-03-17&last=2026-03-17",
        "accountant's file": "/book/income.csv?first=2016-03-17&last=2026-03-17",
    }


def column(closed: int) -> tuple[dict[str, float], dict[str, float]]:
    """The waits at one size, and the other figures."""
    with tempfile.TemporaryDirectory() as where:
        folder = Path(where) / "shop"
        folder.mkdir()
        clients: list[FlaskClient] = []
        made_s = seconds(lambda: clients.append(grown(folder, closed)))
        found = waits(clients[0], closed)
        size = (folder / "shop.db").stat().st_size / 1e6
        figures = {"made by the generator, s": made_s, "file, MB": size}
        return found, {**figures, **costs(folder, Path(where))}


def print_table(sizes: list[int], columns: list[dict[str, float]]) -> None:
    """A row a figure, a column a size."""
    print("| finished tickets | " + " | ".join(f"{size:,}" for size in sizes) + " |")
    print("|---" * (len(sizes) + 1) + "|")
    for name in columns[0]:
        print(f"| {name} | " + " | ".join(f"{one[name]:.1f}" for one in columns) + " |")


def main() -> int:
    sizes = [int(size) for size in sys.argv[1:]] or [100, 10_000, 100_000]
    columns = [column(size) for size in sizes]
    print_table(sizes, [{**found, **figures} for found, figures in columns])
    over = [
        f"{name} at {size:,}: {ms:.0f} ms"
        for size, (found, _) in zip(sizes, columns, strict=True)
        for name, ms in found.items()
        if ms > MOST_MS
    ]
    print(f"OVER {MOST_MS:.0f} ms: {', '.join(over)}" if over else f"none over {MOST_MS:.0f} ms")
    return int(bool(over))


if __name__ == "__main__":
    sys.exit(main())
