"""What the running program says of itself: the terminal of `fitcounter serve`, files beside the
data, the audit. Nothing of anybody is in it.

The real command serves; a customer, a passphrase, a PIN, a link, a cookie that stand nowhere else
go through pages, forms and every kind of error; then all that was said is searched for them (OWASP
ASVS 5.0 16.2.5, 14.2.4).
"""

from __future__ import annotations

import base64
import json
import re
import signal
import subprocess
import sys
import time
import zlib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import quote

import pytest
from support.cast import CAST
from support.paths import CHECKOUT
from support.ticket_rows import make_job
from system.canary_visits import NAME, NOTE, PHONE, PIN, WORDS, WRONG, Visitor, break_it, walk

from fitcounter.desk.common import link_token
from fitcounter.desk.shop import open_store
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets
from fitcounter.serving import server
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

RUN = "import sys; from fitcounter.cli.main import main; sys.exit(main(sys.argv[1:]))"

LINE = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ (WARNING|ERROR) [\x20-\x7e]+")


@dataclass
class Told:
    """A shop that was used and closed. secrets: what must be nowhere; said: file → its text."""

    store: Store
    secrets: dict[str, str]
    said: dict[str, str]
    codes: set[int]
    terminal: list[str]


def reference(cookie: str) -> str:
    """What the cookie of a session holds: packed or not, base64url before the first dot that is not
    its first sign.
    """
    packed = cookie.startswith(".")
    held = base64.urlsafe_b64decode(cookie.lstrip(".").split(".")[0] + "==")
    return str(json.loads(zlib.decompress(held) if packed else held)["token"])


def served(folder: Path, out: Path, port: int) -> subprocess.Popen[bytes]:
    """`fitcounter serve` as its own process, all its words in one file."""
    command = [sys.executable, "-c", RUN, "serve", "--data", str(folder), "--port", str(port)]
    with out.open("wb") as file:
        process = subprocess.Popen(command, cwd=CHECKOUT, stdout=file, stderr=subprocess.STDOUT)
    for _ in range(600):
        with suppress(OSError):
            Visitor(port).ask("/offline")
            return process
        assert process.poll() is None, out.read_text()
        time.sleep(0.05)
    raise AssertionError("the server did not open")


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Told]:
    """One walk through the open shop, then the server is told to stop."""
    folder = tmp_path_factory.mktemp("shop")
    store = open_store(folder / "shop.db")
    with store.write_tx():
        for initials, (name, role) in CAST.items():
            store.insert(
                "staff",
                name=name,
                initials=initials,
                role=role,
                passphrase_hash="",
                created_at="2026-01-01T00:00:00Z",
            )
    job = make_job(store, Act(datetime.now(UTC), 1), name=NAME)
    link = link_token.link_token(link_token.link_key(folder), tickets.get(store, job.ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            link_hash=link_token.link_hash(link),
            link_until="2099-12-31T00:00:00Z",
        )
        store.change(
            "staff",
            1,
            passphrase_hash=staff_secrets.hash_secret(WORDS),
            pin_hash=staff_secrets.hash_secret(PIN),
        )
    out, port = tmp_path_factory.mktemp("terminal") / "out.txt", server.free_port("127.0.0.1", 0)
    process = served(folder, out, port)
    try:
        staff, stranger = Visitor(port), Visitor(port)
        staff.ask("/sign-in")
        assert staff.ask("/sign-in", {"initials": "CO", "passphrase": WORDS})[0] == 303
        staff.ask("/me")
        walk(staff, stranger, job, link)
        break_it(store, job, staff, stranger, link)
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(60)
    said = {"the terminal": out.read_text("utf-8", "replace")}
    audit = store.rows("SELECT at, staff_id, what, ticket_id, detail FROM audit")
    said["the audit"] = json.dumps([dict(row) for row in audit])
    for path in folder.rglob("*"):
        if (
            path.is_file()
            and not path.name.startswith("shop.db")
            and path.name != "keys.json"
            and "copies" not in path.parts
        ):
            said[path.relative_to(folder).as_posix()] = path.read_bytes().decode("utf-8", "replace")
    secrets = {
        "name": NAME,
        "first name": NAME.split()[0],
        "phone": PHONE,
        "note": NOTE,
        "passphrase": WORDS,
        "wrong passphrase": WRONG,
        "pin": PIN,
        "link": link,
        "cookie": staff.cookies["fitcounter"],
        "reference in the cookie": reference(staff.cookies["fitcounter"]),
        "form token": staff.token,
    }
    made = Told(
        store, secrets, said, {*staff.answers, *stranger.answers}, said["the terminal"].splitlines()
    )
    yield made
    store.close()


def test_nothing_private_is_in_what_the_server_says_and_logs(told: Told) -> None:
    """After all kinds of answers: no name, number, note, secret, link or cookie in the terminal,
    the audit or any file beside the data.
    """
    assert {200, 303, 400, 401, 403, 404, 405, 409, 413, 415, 422, 429, 500} <= told.codes
    for what, secret in told.secrets.items():
        for form in {secret, quote(secret), secret.replace(" ", "+"), json.dumps(secret)[1:-1]}:
            assert [where for where, text in told.said.items() if form in text] == [], what
    assert {name.split("/")[0] for name in told.said} <= {
        "the terminal",
        "the audit",
        "in-use.lock",
        "open.lock",
        "kept.json",
        "duties.json",
        "duties.lock",
        "audit.key",
        "evening",
    }
    for line in told.terminal[1:]:
        assert LINE.fullmatch(line), line
    assert "INJECTED" not in told.said["the terminal"]


def test_what_happened_at_the_door_can_be_read_afterwards(told: Told) -> None:
    """Who came in and who did not is in the audit with its instant in UTC; each refusal and each
    error of ours is a line of the terminal.
    """
    rows = told.store.rows("SELECT at, staff_id, what, detail FROM audit ORDER BY id")
    door = [
        (row["what"], row["staff_id"], json.loads(row["detail"]))
        for row in rows
        if row["what"] in ("signed-in", "sign-in-refused")
    ]
    assert [what for what, *_ in door].count("signed-in") == 1
    refused_in = [detail for what, _, detail in door if what == "sign-in-refused"]
    assert len(refused_in) >= 5
    assert all(detail == {"staff": 2} for detail in refused_in)
    assert all(re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", row["at"]) for row in rows)
    text = "\n".join(told.terminal)
    for refused in (
        "refused 403 at owner.staff, person 1",
        "refused 403 at counter.new_job, person 1",
        "refused 400 at counter.new_job, person 1",
    ):
        assert refused in text
    assert text.count("refused 429 at owner.sign_in, person 0") == 1
    assert re.search(
        r"ERROR incident [0-9a-f]{8} at \w+\.\w+: ValueError \w+\.(py|html):\d+ > ", text
    )
