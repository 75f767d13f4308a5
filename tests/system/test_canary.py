"""What the running program says of itself: the terminal of `fitcounter serve`, files beside the
data, the audit. Nothing of anybody is in it.

The real command serves; a customer, a passphrase, a PIN, a link, a cookie that stand nowhere else
go through pages, forms and every kind of error; then all that was said is searched for them (OWASP
ASVS 5.0 16.2.5, 14.2.4).
"""

from __future__ import annotations

import base64
import http.client
import json
import re
import signal
import subprocess
import sys
import time
import zlib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import quote, urlencode

import pytest
from support.cast import CAST
from support.counter_forms import new_job
from support.paths import CHECKOUT
from support.ticket_rows import Job, make_job

from fitcounter.desk.common import link_token
from fitcounter.desk.shop import open_store
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets
from fitcounter.serving import server
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

RUN = "import sys; from fitcounter.cli.main import main; sys.exit(main(sys.argv[1:]))"
NAME, PHONE, NOTE = "Zebulonia Quexworth", "5550177263", "limpets on the left heel"
WORDS, PIN, WRONG = "marzipan kettle under ferns", "829461", "some tundra words 8154"
LINE = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ (WARNING|ERROR) [\x20-\x7e]+")


@dataclass
class Visitor:
    """Somebody at a browser of their own, over a real socket.

    answers: every code that came back.
    """

    port: int
    cookies: dict[str, str] = field(default_factory=dict)
    answers: list[int] = field(default_factory=list)
    token: str = ""

    def ask(
        self, path: str, form: dict[str, object] | None = None, **headers: str
    ) -> tuple[int, str]:
        line = http.client.HTTPConnection("localhost", self.port, timeout=20)
        sent = {
            "Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items()),
            "Accept": "text/html",
            **headers,
        }
        body = None if form is None else urlencode({"csrf_token": self.token, **form}, doseq=True)
        if body is not None:
            sent.setdefault("Content-Type", "application/x-www-form-urlencoded")
        line.request("GET" if form is None else "POST", path, body, sent)
        answer = line.getresponse()
        text = answer.read().decode("utf-8", "replace")
        for value in answer.headers.get_all("Set-Cookie") or []:
            name, _, held = value.split(";")[0].partition("=")
            self.cookies[name] = held
        found = re.search(r'name="csrf[-_]token" (?:value|content)="([^"]+)"', text)
        self.token = found.group(1) if found else self.token
        line.close()
        self.answers.append(answer.status)
        return answer.status, text


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


def walk(staff: Visitor, stranger: Visitor, job: Job, link: str) -> None:
    """Pages, forms and errors, with everything private in each place where it can be typed."""
    typed = {
        **new_job(name=NAME, phone=PHONE, note=NOTE, needed_by=""),
        "submission_id": "canary-new-job-001",
    }
    everything = {
        "name": NAME,
        "phone": PHONE,
        "note": NOTE,
        "said": NOTE,
        "passphrase": WORDS,
        "pin": PIN,
    }
    staff.ask("/new")
    staff.ask("/new", typed)
    staff.ask(
        "/new", {**typed, "note": f"{NOTE}, changed"}
    )  # the same submission with other words: 409
    staff.ask("/new", {**typed, "submission_id": "canary-new-job-002", "needed_by": "2026-02-30"})
    staff.ask(f"/find?q={quote(NAME)}")
    staff.ask(f"/find?q={PHONE[-4:]}")
    staff.ask(f"/tickets/{job.ticket_id}")
    staff.ask(
        f"/tickets/{job.ticket_id}/call",
        {"how": "called", "note": NOTE, "submission_id": "canary-call-00001"},
    )
    staff.ask(
        f"/items/{job.left}/finding",
        {"word": "scuffs", "place": NOTE, "submission_id": "canary-find-00001"},
    )
    staff.ask("/shop/people")  # 403: somebody else's
    staff.ask(
        "/me",
        {
            "now": WRONG,
            "passphrase": WORDS,
            "again": WORDS,
            "pin": PIN,
            "submission_id": "canary-own-000001",
        },
    )
    staff.ask(f"/no/such/{quote(NAME)}/{link}")
    staff.ask("/new", everything, Origin=f"http://{quote(NAME)}.example")  # 403
    staff.ask("/new", {**everything, "csrf_token": "rubbish"})  # 400
    staff.ask("/new", {"note": NOTE * 4000})  # 413
    staff.ask("/new", everything, **{"Content-Type": "application/json"})  # 415
    staff.ask("/sign-out")  # 405
    for path in (
        f"/c/{link}",
        f"/c/{link}?language=es",
        f"/c/{link}/calendar.ics",
        f"/c/{link}x",
        f"/c/{link[:-1]}",
        f"/c/{link}/{quote(NOTE)}",
    ):
        stranger.ask(path)
    stranger.ask(f"/c/{link}/not-right", {"said": NOTE, "submission_id": "canary-said-00001"})
    stranger.ask(f"/c/{link}/wear", {"minutes": NOTE})
    stranger.ask(f"/c/{link}/not-right", {"csrf_token": "rubbish", "said": NOTE})  # 400
    stranger.ask("/sign-in")
    for _ in range(12):  # 422, then 429, which a slow machine meets later
        if (
            stranger.ask(
                f"/sign-in?next={quote('/find?q=' + NAME)}", {"initials": "BE", "passphrase": WRONG}
            )[0]
            == 429
        ):
            break
    stranger.ask("/open", {"who": "1", "pin": PIN})
    stranger.ask("/new", everything)  # 401
    stranger.ask("/sign-in", None, Host=f"{quote(NAME)}.example")
    stranger.ask(
        "/sign-in",
        None,
        **{
            "X-Forwarded-For": PHONE,
            "User-Agent": f"{NAME}\tINJECTED",
            "Referer": f"http://localhost/c/{link}",
        },
    )


def break_it(store: Store, job: Job, staff: Visitor, stranger: Visitor, link: str) -> None:
    """Rows that cannot be, whose reading fails with their own text in the error: 500, on a staff
    page and on hers.
    """
    with store.write_tx():
        store.change(
            "tickets", job.ticket_id, opened_at=f"{NAME} {PHONE}", link_until=f"never, {NOTE}"
        )
        store.change("items", job.left, since=f"{NAME} {PHONE}")
    for one, path in (
        (staff, f"/tickets/{job.ticket_id}"),
        (staff, f"/items/{job.left}"),
        (staff, "/"),
        (stranger, f"/c/{link}"),
    ):
        one.ask(path)


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
