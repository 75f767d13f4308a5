"""A customer, secrets and words that stand nowhere else, and two visitors who carry them through
pages, forms and every kind of error of a shop that is open.
"""

from __future__ import annotations

import http.client
import re
from dataclasses import dataclass, field
from urllib.parse import quote, urlencode

from support.counter_forms import new_job
from support.ticket_rows import Job

from fitcounter.store.database import Store

NAME, PHONE, NOTE = "Zebulonia Quexworth", "5550177263", "limpets on the left heel"
WORDS, PIN, WRONG = "marzipan kettle under ferns", "829461", "some tundra words 8154"


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
