"""What saving a full set of readings costs beside the least that a kept POST can cost: `python tests/bench/save_speed.py`.

Ours: the whole profile, both legs and both boots at the shop's six heights, through HTTP: token, session, the form, every text
read as a length, twenty-four rows written anew, one row of the audit, the submission, one synced commit, and the file closed. Beside it
in the same run, in turns so that a busy disk slows both: one bare Flask POST of the same form, and one row committed by sqlite3 alone in
the same journal and with the same sync, the file opened for it as ours is. Wall clock, because waiting for the disk is what is paid.

Prints the ratio of the medians and exits 1 over 3.
"""

from __future__ import annotations

import secrets
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[2]), str(Path(__file__).resolve().parents[1])]

from cast import PASSPHRASE, Counter  # noqa: E402
from door import sheet, taken_in  # noqa: E402
from flask import Flask, redirect, request  # noqa: E402
from werkzeug.wrappers import Response  # noqa: E402

from fitcounter.desk import passphrases  # noqa: E402
from fitcounter.settings import Settings  # noqa: E402
from fitcounter.store.database import Store, dbapi, journal  # noqa: E402
from fitcounter.web import create_app  # noqa: E402

LIMIT = 3.0
ROUNDS = 60
WARM_UP = 5
NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
HEIGHTS = ("4 1/2", "6 1/2", "8 1/2", "10 1/2", "12 1/2", "14 1/2")  # the shop's own, so that the sheet comes as it was shown
LEG = ("9 1/2", "10 7/8", "12 1/4", "13 1/2", "14 1/2", "14 1/4")
BOOT = ("10", "11", "12 1/4", "13", "13 3/4", "14")


def the_sheet(turn: int) -> dict[str, object]:
    """Twenty-four readings; one boot differs from turn to turn, so that nothing can be left as it was."""
    cells = {f"{what}_{side}_{row}": girth for what, girths in (("leg", LEG), ("boot", BOOT)) for side in ("left", "right") for row, girth in enumerate(girths)}
    heights = {f"height_{row}": height for row, height in enumerate(HEIGHTS)}
    return sheet("leg", **heights, **{**cells, "boot_left_3": f"13 {1 + 2 * (turn % 2)}/8"})


def shop(folder: Path) -> tuple[Counter, str]:
    """A counter that is signed in, and the address of a sheet to fill in."""
    app = create_app(Settings(data_dir=folder, testing=True), lambda: NOW)
    store = Store(folder / "shop.db")
    with store.write_tx():
        hashed = passphrases.hash_secret(PASSPHRASE)
        store.insert("staff", name="Odile", initials="OW", role="owner", passphrase_hash=hashed, created_at="2026-01-01T00:00:00Z")
    store.close()
    counter = Counter(app.test_client(), "OW").sign_in()
    path = f"/fits/{taken_in(counter)}/measure?depth=whole"
    counter.get(path)
    return counter, path


def ours(counter: Counter, path: str) -> Callable[[int], object]:
    def run(turn: int) -> None:
        answer = counter.post(path, **the_sheet(turn))
        assert answer.status_code == 303, answer.status_code

    return run


def bare_post() -> Callable[[int], object]:
    """The framework alone: a form taken, a redirect given."""
    app = Flask("bare")

    @app.post("/")
    def taken() -> Response:
        return redirect(f"/{len(request.form)}", 303)

    client = app.test_client()

    def run(turn: int) -> None:
        assert client.post("/", data={"csrf_token": secrets.token_hex(45), **the_sheet(turn)}).status_code == 303

    return run


def bare_commit(file: Path) -> Callable[[int], object]:
    """The disk alone: one row, committed as safely as ours."""
    mode, synchronous = journal()
    made = dbapi.connect(str(file), isolation_level=None)
    made.execute(f"PRAGMA journal_mode={mode}").fetchall()
    made.execute("CREATE TABLE readings (id INTEGER PRIMARY KEY, girth_um INTEGER NOT NULL)")
    made.close()

    def run(turn: int) -> None:
        held = dbapi.connect(str(file), isolation_level=None)
        held.execute(f"PRAGMA synchronous={synchronous}")
        held.execute("BEGIN IMMEDIATE")
        held.execute("INSERT INTO readings (girth_um) VALUES (?)", [349_250 + turn])
        held.execute("COMMIT")
        held.close()

    return run


def main() -> int:
    with tempfile.TemporaryDirectory() as where:
        folder = Path(where)
        runs = {"ours": ours(*shop(folder)), "bare POST": bare_post(), "bare commit": bare_commit(folder / "bare.db")}
        taken: dict[str, list[float]] = {name: [] for name in runs}
        stays = [Store(folder / "shop.db"), dbapi.connect(str(folder / "bare.db"))]  # as the server's keeper holds one: nobody is the last to leave
        stays[1].execute("SELECT count(*) FROM readings").fetchall()
        for turn in range(ROUNDS):
            for name, run in runs.items():
                begun = time.perf_counter()
                run(turn)
                taken[name].append((time.perf_counter() - begun) * 1000)
        for held in stays:
            held.close()
        kept = Store(folder / "shop.db")
        rows = kept.value("SELECT (SELECT count(*) FROM leg_readings) + (SELECT count(*) FROM boot_readings)")
        saves = kept.value("SELECT count(*) FROM audit WHERE what = 'measured'")
        kept.close()
    assert (rows, saves) == (24, ROUNDS), (rows, saves)
    medians = {name: statistics.median(times[WARM_UP:]) for name, times in taken.items()}
    ratio = medians["ours"] / (medians["bare POST"] + medians["bare commit"])
    for name, milliseconds in medians.items():
        print(f"{name:12} {milliseconds:7.2f} ms")
    print(f"{'ok  ' if ratio <= LIMIT else 'OVER'} a full set of readings saved / one bare POST and one bare commit: {ratio:.2f} (at most {LIMIT:g})")
    return int(ratio > LIMIT)


if __name__ == "__main__":
    sys.exit(main())
