"""What saving a full set of readings costs beside the least that a kept POST can cost: `python
tests/bench/save_speed.py`.

Ours: the whole profile, both legs and both boots at the shop's six heights, sent to `fitcounter
serve` over a real socket: token, session, the form, every text read as a length, twenty-four rows
written anew, the question whether they have an answer, one row of the audit, the submission, one
synced commit. Beside it in the same run, in turns so that a busy machine slows all: the same form
sent to a bare Flask application that redirects, served the same way, and one row committed by
sqlite3 alone in the same journal and with the same sync, on a connection that stays open as the
server's do. Wall clock, because waiting is what is paid.

Prints the ratio of the medians and exits 1 over 2.5.
"""

from __future__ import annotations

import http.client
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlencode

import checkout_path  # noqa: F401 - finds the next
from filled_shop import add_owner
from flask import Flask, redirect, request
from support.cast import Counter
from support.counter_forms import sheet, taken_in
from werkzeug.wrappers import Response

from fitcounter.serving import server
from fitcounter.settings import Settings
from fitcounter.store.database import Store, dbapi, journal
from fitcounter.web import create_app

CHECKOUT = Path(__file__).resolve().parents[2]
LIMIT = 2.5
ROUNDS = 300
WARM_UP = 20
SERVE = "import sys; from fitcounter.cli.main import main; sys.exit(main(sys.argv[1:]))"
HEIGHTS = (
    "4 1/2",
    "6 1/2",
    "8 1/2",
    "10 1/2",
    "12 1/2",
    "14 1/2",
)  # the shop's own, so that the sheet comes as it was shown
LEG = ("9 1/2", "10 7/8", "12 1/4", "13 1/2", "14 1/2", "14 1/4")
BOOT = ("10", "11", "12 1/4", "13", "13 3/4", "14")


def the_sheet(turn: int) -> dict[str, object]:
    """Twenty-four readings; one boot differs from turn to turn, so that nothing can be left as it
    was.
    """
    cells = {
        f"{what}_{side}_{row}": girth
        for what, girths in (("leg", LEG), ("boot", BOOT))
        for side in ("left", "right")
        for row, girth in enumerate(girths)
    }
    heights = {f"height_{row}": height for row, height in enumerate(HEIGHTS)}
    return sheet("leg", **heights, **{**cells, "boot_left_3": f"13 {1 + 2 * (turn % 2)}/8"})


def shop(folder: Path) -> tuple[str, str, str]:
    """A counter that is signed in, as its cookie and its token, and the address of a sheet to fill
    in.
    """
    app = create_app(Settings(data_dir=folder, testing=True), lambda: datetime.now(UTC))
    store = Store(folder / "shop.db")
    with store.write_tx():
        add_owner(store)
    store.close()
    counter = Counter(app.test_client(), "OW").sign_in()
    fit_id = taken_in(counter, needed_by="")
    path = f"/fits/{fit_id}/measure?depth=whole"
    counter.get(path)
    cookie = counter.client.get_cookie("fitcounter")
    assert cookie is not None
    return f"fitcounter={cookie.value}", counter.token(), path


def bare(port: int) -> None:
    """The framework alone behind the same server: a form taken, a redirect given."""
    app = Flask("bare")

    @app.post("/")
    def taken() -> Response:
        return redirect(f"/{len(request.form)}", 303)

    server.serve(app, Settings(data_dir=Path("."), port=port), "open")


@contextmanager
def served(*line: str, port: int) -> Iterator[http.client.HTTPConnection]:
    """A connection that stays, to a server of its own process."""
    with subprocess.Popen(
        [sys.executable, *line], cwd=CHECKOUT, stdout=subprocess.DEVNULL
    ) as program:
        for _ in range(200):
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.1)
        client = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        try:
            yield client
        finally:
            client.close()
            program.terminate()


def posting(
    client: http.client.HTTPConnection, path: str, cookie: str, token: str
) -> Callable[[int], object]:
    headers = {"Content-Type": "application/x-www-form-urlencoded", "Cookie": cookie}

    def run(turn: int) -> None:
        client.request(
            "POST", path, urlencode({"csrf_token": token, **the_sheet(turn)}).encode(), headers
        )
        answer = client.getresponse()
        answer.read()
        assert answer.status == 303, answer.status

    return run


def bare_commit(file: Path) -> Callable[[int], object]:
    """The disk alone: one row, committed as safely as ours."""
    mode, synchronous = journal()
    held = dbapi.connect(str(file), isolation_level=None)
    held.execute(f"PRAGMA journal_mode={mode}").fetchall()
    held.execute(f"PRAGMA synchronous={synchronous}")
    held.execute("CREATE TABLE readings (id INTEGER PRIMARY KEY, girth_um INTEGER NOT NULL)")

    def run(turn: int) -> None:
        held.execute("BEGIN IMMEDIATE")
        held.execute("INSERT INTO readings (girth_um) VALUES (?)", [349_250 + turn])
        held.execute("COMMIT")

    return run


def taken(folder: Path) -> dict[str, list[float]]:
    """Milliseconds of every turn."""
    cookie, token, path = shop(folder)
    port, other = server.free_port("127.0.0.1", 0), server.free_port("127.0.0.1", 0)
    ours = ("-c", SERVE, "serve", "--data", str(folder), "--port", str(port))
    with (
        served(*ours, port=port) as client,
        served(__file__, "bare", str(other), port=other) as plain,
    ):
        runs = {
            "ours": posting(client, path, cookie, token),
            "bare POST": posting(plain, "/", cookie, token),
            "bare commit": bare_commit(folder / "bare.db"),
        }
        found: dict[str, list[float]] = {name: [] for name in runs}
        for turn in range(ROUNDS):
            for name, run in runs.items():
                begun = time.perf_counter()
                run(turn)
                found[name].append((time.perf_counter() - begun) * 1000)
    return found


def main() -> int:
    with tempfile.TemporaryDirectory() as where:
        found = taken(Path(where))
        kept = Store(Path(where) / "shop.db")
        rows = kept.value(
            "SELECT (SELECT count(*) FROM leg_readings) + (SELECT count(*) FROM boot_readings)"
        )
        saves = kept.value("SELECT count(*) FROM audit WHERE what = 'measured'")
        kept.close()
    assert (rows, saves) == (24, ROUNDS), (rows, saves)
    medians = {name: statistics.median(times[WARM_UP:]) for name, times in found.items()}
    ratio = medians["ours"] / (medians["bare POST"] + medians["bare commit"])
    for name, milliseconds in medians.items():
        print(f"{name:12} {milliseconds:7.2f} ms")
    print(
        f"{'ok  ' if ratio <= LIMIT else 'OVER'} a full set of readings saved / one bare POST and"
        f" one bare commit: {ratio:.2f} (at most {LIMIT:g})"
    )
    return int(ratio > LIMIT)


if __name__ == "__main__":
    if sys.argv[1:2] == ["bare"]:
        bare(int(sys.argv[2]))
    else:
        sys.exit(main())
