"""A shop with as many closed and open tickets as a measurement wants, all of invented people, and a
signed-in client of it.

The open boots have been measured and are in their first round, so that their page shows its figures
and drawings.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

from flask.testing import FlaskClient
from support.cast import PASSPHRASE

from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.settings import Settings
from fitcounter.store.customers import name_key
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store
from fitcounter.web import create_app

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
FIRST = ("Alma", "Bruno", "Clara", "Dario", "Elena", "Fabio", "Greta", "Hugo")
FAMILY = (
    *("Abel", "Bern", "Cor", "Dal", "Ever", "Fal", "Gant", "Hol", "Isen", "Jar"),
    *("Kest", "Lum", "Mar", "Nor", "Oster", "Pel", "Quin", "Rud", "Sol", "Tav"),
)
READ = "height_um, height_text, girth_um, girth_text, read_at"


def name_of(n: int) -> str:
    """An invented name: one first name in eight, one family name in 400."""
    family = FAMILY[n * 7 % 20] + FAMILY[n * 7 // 20 % 20].lower()
    return f"{FIRST[n % 8]} {family}"


def add_owner(store: Store) -> None:
    """Somebody who may sign in, inside a write."""
    store.insert(
        "staff",
        name="Odile",
        initials="OW",
        role="owner",
        passphrase_hash=passphrase_and_pin.hash_secret(PASSPHRASE),
        created_at="2026-01-01T00:00:00Z",
    )


def fill(folder: Path, closed: int, open_tickets: int) -> int:
    """A shop with so many closed and open tickets, a pair of boots each; returns the id of an open
    left boot.
    """
    store = open_store(folder / "shop.db")
    store.db.execute("PRAGMA synchronous = OFF")
    with store.write_tx():
        add_owner(store)
        total = closed + open_tickets
        rows = [
            (n, name_of(n), name_key(name_of(n)), f"{n % 10000:04}", "2020-01-01T00:00:00Z")
            for n in range(1, total + 1)
        ]
        many(
            store,
            "INSERT INTO customers (id, name, name_key, phone_last4, created_at) VALUES (?, ?, ?,"
            " ?, ?)",
            rows,
        )
        tickets, fits, items, steps, lines = [], [], [], [], []
        for n in range(1, total + 1):
            is_open = n > closed
            number = n - closed if is_open else 1 + n % 999
            tickets.append(
                (
                    n,
                    number,
                    n,
                    "2020-01-01T00:00:00Z",
                    "2026-03-20",
                    "USD",
                    "open" if is_open else "closed",
                    None if is_open else "2020-02-01T00:00:00Z",
                )
            )
            fits.append((n, n))
            lines.append((n, 0, "Stretch", "flat", 9000))
            for side in (1, 2):
                state = "on-tree" if is_open else "closed"
                items.append(
                    (
                        2 * n + side,
                        n,
                        n,
                        "A",
                        "boot",
                        ("left", "right")[side - 1],
                        "stretch",
                        "tall boots",
                        state,
                        "2026-03-10T10:00:00Z",
                    )
                )
                steps.append(
                    (
                        2 * n + side,
                        "agree",
                        "2020-01-01T00:00:00Z",
                        "2020-01-01T00:00:00Z",
                        "counter",
                        "queued",
                    )
                )
        many(
            store,
            "INSERT INTO tickets (id, number, customer_id, opened_at, promise_day, currency, state,"
            " handed_over_at) VALUES (?,?,?,?,?,?,?,?)",
            tickets,
        )
        many(store, "INSERT INTO fits (id, ticket_id) VALUES (?, ?)", fits)
        many(
            store,
            "INSERT INTO items (id, ticket_id, fit_id, letter, kind, side, work, description,"
            " state, since) VALUES (?,?,?,?,?,?,?,?,?,?)",
            items,
        )
        many(
            store,
            "INSERT INTO steps (item_id, step, happened_at, saved_at, from_state, to_state) VALUES"
            " (?,?,?,?,?,?)",
            steps,
        )
        measure(store, items)
        many(
            store,
            "INSERT INTO price_lines (ticket_id, position, what, kind, amount_minor) VALUES"
            " (?,?,?,?,?)",
            lines,
        )
    store.db.execute("ANALYZE")
    store.close()
    return 2 * (closed + open_tickets // 2) + 1


def measure(store: Store, items: list[tuple[object, ...]]) -> None:
    """Two heights of leg and shaft, and a round on the tree, for every open boot."""
    at = "2026-03-10T10:00:00Z"
    open_boots = [(one[0], one[1], one[5]) for one in items if one[8] == "on-tree"]
    for height, leg, shaft in ((254_000, 330_000, 325_000), (304_800, 368_000, 355_000)):
        legs = [
            (fit, side, height, f"{height / 1e3:g} mm", leg, f"{leg / 1e3:g} mm", at)
            for _, fit, side in open_boots
        ]
        many(
            store,
            f"INSERT INTO leg_readings (fit_id, side, {READ}, unit, repeat) VALUES (?, ?, ?, ?, ?,"
            " ?, ?, 'mm', 1)",
            legs,
        )
        shafts = [
            (boot, height, f"{height / 1e3:g} mm", shaft, f"{shaft / 1e3:g} mm", at)
            for boot, _, _ in open_boots
        ]
        into = f"INSERT INTO boot_readings (item_id, {READ}, moment, unit, method, repeat)"
        many(store, f"{into} VALUES (?, ?, ?, ?, ?, ?, 'brought-in', 'mm', 'inside', 1)", shafts)
    columns = "id, item_id, n, prepared, before_um, before_text, before_unit, on_at, due_off_at"
    values = [
        (boot, boot, 368_000, "368 mm", at, "2026-03-17T10:00:00Z") for boot, _, _ in open_boots
    ]
    many(
        store,
        f"INSERT INTO rounds ({columns}) VALUES (?, ?, 1, 'conditioned', ?, ?, 'mm', ?, ?)",
        values,
    )
    turns = [(boot, at, 380_000, "380 mm") for boot, _, _ in open_boots]
    many(
        store,
        "INSERT INTO turns (round_id, n, at, girth_um, girth_text, unit) VALUES (?, 1, ?, ?, ?,"
        " 'mm')",
        turns,
    )


def many(store: Store, sql: str, rows: list[tuple[object, ...]]) -> None:
    store.db.conn.executemany(sql, rows)


def shop(folder: Path, closed: int, open_tickets: int) -> tuple[FlaskClient, int]:
    """A signed-in client of a filled shop, and an item of it."""
    item_id = fill(folder, closed, open_tickets)
    app = create_app(Settings(data_dir=folder, testing=True), lambda: NOW)
    client = app.test_client()
    token = re.search(r'name="csrf_token" value="([^"]+)"', client.get("/sign-in").text)
    answer = client.post(
        "/sign-in",
        data={
            "initials": "OW",
            "passphrase": PASSPHRASE,
            "csrf_token": token.group(1) if token else "",
        },
    )
    assert answer.status_code == 303, answer.text
    return client, item_id
