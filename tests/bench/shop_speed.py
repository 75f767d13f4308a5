"""How the pages hold with 100,000 tickets in the file, beside bare counterparts in the same run.

python tests/bench/shop_speed.py [closed tickets, 100000]

The shop is that of filled_shop.py.

Prints ratios of processor time, and exits 1 when a figure is over: item page at most 2.2 × a bare
Flask route that reads one row and renders a small template, and 1.2 × the same page with 100
tickets; Today and Pickup at most 1.2 × themselves with 300 open tickets alone; a search for three
letters that one name in eight begins with at most 1.2 × the same with 100 tickets.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from filled_shop import shop
from flask import Flask, render_template_string, request
from flask.testing import FlaskClient

from fitcounter.serving.server import keep_what_stays
from fitcounter.store.database import Store

OPEN = 300
ROUNDS = 60


def bare(folder: Path) -> FlaskClient:
    """A route that opens the file, reads one row and renders a small template; and one that takes a
    POST.
    """
    app = Flask("bare")

    @app.get("/")
    def row() -> str:
        store = Store(folder / "shop.db")
        try:
            found = store.rows("SELECT * FROM items WHERE id = ?", 5)[0]
        finally:
            store.close()
        return render_template_string(
            "<!DOCTYPE html><title>{{ row.kind }}</title><h1>{{ row.side }}</h1><p>{{"
            " row.description }}</p>",
            row=found,
        )

    @app.post("/")
    def taken() -> str:
        return str(len(request.form))

    return app.test_client()


def side_by_side(**runs: Callable[[], object]) -> dict[str, float]:
    """Median processor time of each, in ms, taken in turn so that a noisy machine is noisy to all
    of them, in a process that looks for what may go as seldom as the shop's server does.
    """
    taken: dict[str, list[float]] = {name: [] for name in runs}
    keep_what_stays()
    for _ in range(ROUNDS):
        for name, run in runs.items():
            begun = time.process_time()
            run()
            taken[name].append((time.process_time() - begun) * 1000)
    return {name: statistics.median(times[3:]) for name, times in taken.items()}


def opens(client: FlaskClient, path: str) -> Callable[[], object]:
    def run() -> None:
        answer = client.get(path)
        assert answer.status_code == 200, (path, answer.status_code)

    return run


def main() -> int:
    closed = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    with tempfile.TemporaryDirectory() as where:
        folders = [Path(where) / name for name in ("large", "small", "hundred")]
        for folder in folders:
            folder.mkdir()
        large, item = shop(folders[0], closed, OPEN)
        small, _ = shop(folders[1], 0, OPEN)
        hundred, item_of_hundred = shop(folders[2], 50, 50)
        taken = side_by_side(
            bare=opens(bare(folders[0]), "/"),
            item=opens(large, f"/items/{item}"),
            item_of_hundred=opens(hundred, f"/items/{item_of_hundred}"),
            today=opens(large, "/"),
            today_small=opens(small, "/"),
            pickup=opens(large, "/pickup"),
            pickup_small=opens(small, "/pickup"),
            search=opens(large, "/find?q=gre"),
            search_of_hundred=opens(hundred, "/find?q=gre"),
        )
    figures = (
        ("item page / bare route", taken["item"] / taken["bare"], 2.2),
        (
            f"item page, {closed + OPEN} tickets / 100",
            taken["item"] / taken["item_of_hundred"],
            1.2,
        ),
        (
            f"Today, {closed} closed beside {OPEN} open / {OPEN} open",
            taken["today"] / taken["today_small"],
            1.2,
        ),
        (
            f"Pickup, {closed} closed beside {OPEN} open / {OPEN} open",
            taken["pickup"] / taken["pickup_small"],
            1.2,
        ),
        (
            f"search while typing, {closed + OPEN} tickets / 100",
            taken["search"] / taken["search_of_hundred"],
            1.2,
        ),
    )
    for name, milliseconds in taken.items():
        print(f"{name:16} {milliseconds:8.2f} ms of processor time")
    for name, ratio, most in figures:
        print(f"{'ok  ' if ratio <= most else 'OVER'} {name}: {ratio:.2f} (at most {most})")
    return int(any(ratio > most for _, ratio, most in figures))


if __name__ == "__main__":
    sys.exit(main())
