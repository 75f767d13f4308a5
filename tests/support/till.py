"""Somebody at the counter of the whole shop who types what cannot be: forms as they are usually
sent, and what came back.
"""

from __future__ import annotations

import re
import secrets
from dataclasses import dataclass, field
from functools import cached_property
from html import unescape
from typing import Any

from flask.testing import FlaskClient
from support.bench_cast import Pair, pair, tree
from support.counter_forms import gap_sheet, new_job, sheet
from support.disk_trouble import content
from support.whole_shop import NOW, PEOPLE, WholeShop
from werkzeug.test import TestResponse

from fitcounter.desk.shop import Act

# What travels with a form without anybody having typed it.
OF_LEGS = ("over", "posture", "part_of_day", "ease")  # a sheet of gaps does not ask for them
UNTYPED = ("csrf_token", "submission_id", "version", "draft", "photo")


@dataclass
class Answer:
    """What came back, in the end; text: the whole of it.

    sent: the fields that must stand on a refusal.
    """

    code: int
    text: str
    sent: dict[str, Any] = field(default_factory=dict)

    def missing(self) -> list[str]:
        """The fields whose text is on the page no more; what cannot be shown, such as a NUL, is
        left out.
        """
        fields = re.findall(
            r'value="([^"]*)"|<dd>([^<]*)</dd>|<textarea[^>]*>\r?\n?([^<]*)</textarea>', self.text
        )
        shown = {unescape(one) for found in fields for one in found}
        return [
            name
            for name, value in self.sent.items()
            if name not in UNTYPED and _plain(value) and str(value).strip() not in shown
        ]


def _plain(value: object) -> bool:
    text = str(value).strip()
    return bool(text) and text.isprintable() and len(text) <= 4001


class Till:
    """One device at which somebody is signed in; what is given is made when it is first asked
    for.
    """

    def __init__(self, shop: WholeShop, role: str = "counter") -> None:
        self.shop, self.store, self.role = shop, shop.store, role
        self.client: FlaskClient = shop.signed_in(role)
        self.token = self._token()

    def _token(self) -> str:
        found = re.search(
            r'name="csrf[-_]token" (?:value|content)="([^"]+)"', self.client.get("/sign-in").text
        )
        assert found
        return found.group(1)

    @cached_property
    def fit_id(self) -> int:
        """A pair that was just taken in and is not measured."""
        answer = self.client.post("/new", data={"csrf_token": self.token, **new_job()})
        assert answer.status_code == 303, answer.text
        return int(answer.location.split("/")[2])

    @cached_property
    def boots(self) -> Pair:
        """A pair in the queue with a tree for the left one."""
        tree(self.store, "B4")
        return pair(self.store, Act(NOW, PEOPLE["owner"]), number=941)

    def usual(self, where: str) -> tuple[str, dict[str, Any]]:
        """Where a form goes, and how it is usually sent."""
        if where == "new job":
            return "/new", new_job(phone="(412) 555-0187")
        if where == "no readings":
            return f"/fits/{self.fit_id}/measure", {
                name: value for name, value in sheet().items() if name not in OF_LEGS
            }
        return f"/fits/{self.fit_id}/measure", {
            name: value for name, value in gap_sheet().items() if name not in OF_LEGS
        }

    def send(self, where: str, **changes: object) -> Answer:
        path, usual = self.usual(where)
        return self.post(path, {**usual, **changes})

    def post(self, path: str, sent: dict[str, Any], **more: Any) -> Answer:
        """Sends a form; the file may be another only where it was taken."""
        return self._sent(path, sent, data={"csrf_token": self.token, **sent}, **more)

    def raw(self, path: str, body: bytes, kind: str) -> Answer:
        """The same with a body as it comes."""
        return self._sent(path, {}, data=body, content_type=kind)

    def _sent(self, path: str, sent: dict[str, Any], **more: Any) -> Answer:
        before = content(self.store)
        answer = self.client.post(path, **more)
        if answer.status_code not in (303, 204):
            after = content(self.store)
            assert [name for name in after if after[name] != before[name]] == []
        return Answer(
            answer.status_code,
            self._follow(answer) if answer.status_code == 303 else answer.text,
            sent,
        )

    def _follow(self, answer: TestResponse) -> str:
        """Where it led to, and what stands there."""
        where = answer.location
        for _ in range(3):
            page = self.client.get(where)
            if page.status_code != 303:
                break
            where = page.location
        return f"{where}\n{page.text if page.mimetype == 'text/html' else ''}"


def fresh() -> str:
    return secrets.token_urlsafe(16)
