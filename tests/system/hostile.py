"""Requests made to hurt: the shop's own forms with one thing or several wrong, over every rule,
from everybody.

The forms are harvested from the pages themselves, so that a new form is attacked without anybody
writing it down here.
"""

from __future__ import annotations

import logging
import random
import re
import resource
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from time import process_time
from typing import Any
from urllib.parse import quote_plus

import pytest
from flask.testing import FlaskClient
from support.disk_trouble import plans_kept, rows_of
from support.whole_shop import LIGHT, WholeShop, addresses, open_copy, rules
from werkzeug.test import TestResponse

from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.web.forms.saved_form import UNTYPED, clean

ROLES = ("owner", "owner", "counter", "bench", "")
TYPED_KINDS = (
    "text",
    "tel",
    "date",
    "datetime-local",
    "email",
    "number",
    "search",
    "time",
    "textarea",
)
STRANGE = (
    "",
    " ",
    "\0",
    "a\0b",
    "\x1b[31m",
    "\ud7ff",
    "﻿",
    "‮abc",
    "é" * 40,
    "👢‍👢",
    "a" + "́" * 60,
    "'",
    '"',
    "'; DROP TABLE tickets; --",
    "<script>alert(1)</script>",
    "{{7*7}}",
    "{% raw %}",
    "%s%n",
    "${7*7}",
    "../../etc/passwd",
    "javascript:alert(1)",
    "=cmd|' /C calc'!A0",
    "-1",
    "0",
    "1e400",
    "NaN",
    "inf",
    "9" * 19,
    "9" * 400,
    "1/0",
    "16 1/4",
    "16¼",
    "٣",
    "１６",
    "²",
    "x" * 81,
    "x" * 4001,
    "2026-02-30",
    "99999-01-01",
    "2026-04-25",
    "25:61",
    "18:30",
    "on",
    "y",
    "null",
    "undefined",
    "[]",
    "a\r\nX-Evil: 1",
    "a\nb",
    "\t",
    "−3",
    "0x10",
    "1_6",
    "١",
    "true",
)
TYPES = (
    "text/plain",
    "application/json",
    "multipart/form-data",
    "multipart/form-data; boundary=x",
    "application/x-www-form-urlencoded; charset=utf-16",
    "image/png",
    "x",
    "",
)
HEADERS: tuple[tuple[str, str], ...] = (
    ("Origin", "https://evil.example"),
    ("Origin", "null"),
    ("Sec-Fetch-Site", "cross-site"),
    ("Accept", "application/json"),
    ("X-Forwarded-For", "203.0.113.9"),
    ("Outbox", "later"),
    ("Outbox-Age", "9" * 40),
    ("Outbox-Age", "-1"),
    ("Content-Encoding", "gzip"),
    ("User-Agent", "\x7f" * 300),
    ("Cookie", "fitcounter=%00garbage"),
    ("Accept-Language", "x" * 9000),
    ("If-None-Match", "*"),
    ("Range", "bytes=9-1"),
    ("Host", "evil.example"),
    ("Transfer-Encoding", "chunked"),
)
METHODS = ("GET", "HEAD", "OPTIONS", "PUT", "DELETE", "PATCH", "TRACE", "PROPFIND", "get")
SUCCESS = (200, 204, 301, 302, 303, 304, 308)
DEAR = (
    ".pdf",
    "everything.csv",
    "everything.json",
)  # papers take long to set; a few of each are enough


@dataclass
class Form:
    """A form of a page. fields: name and value, in order; typed: the names that a hand fills in."""

    action: str
    fields: list[tuple[str, str]] = field(default_factory=list)
    typed: set[str] = field(default_factory=set)


class Forms(HTMLParser):
    """Collects the forms of a page that are sent by POST."""

    def __init__(self, where: str) -> None:
        super().__init__()
        self.where, self.found, self.open = where, list[Form](), False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        one = dict(attrs)
        if tag == "form":
            self.open = (one.get("method") or "").lower() == "post"
            if self.open:
                self.found.append(Form(one.get("action") or self.where))
        elif self.open and tag in ("input", "select", "textarea", "button") and one.get("name"):
            name, kind = str(one["name"]), (one.get("type") or "text") if tag == "input" else tag
            if kind in TYPED_KINDS:
                self.found[-1].typed.add(name)
            if kind not in ("radio", "checkbox", "file", "button") or "checked" in one:
                self.found[-1].fields.append((name, one.get("value") or ""))

    def handle_endtag(self, tag: str) -> None:
        self.open = self.open and tag != "form"


def _encoded(value: str) -> str:
    """A form's value as it is sent; what begins with % is sent as it stands, encoded badly."""
    return value if value.startswith("%") else quote_plus(value, errors="surrogatepass")


@dataclass
class Tally:
    """What came back.

    shown: refusals on which what was typed was looked for. broken: what must not be, in words.
    busy_s: of the processor. peak_mb: the most memory its process held.
    """

    codes: Counter[int] = field(default_factory=Counter)
    shown: int = 0
    broken: list[str] = field(default_factory=list)
    busy_s: float = 0
    peak_mb: float = 0

    def __add__(self, other: Tally) -> Tally:
        return Tally(
            self.codes + other.codes,
            self.shown + other.shown,
            self.broken + other.broken,
            self.busy_s + other.busy_s,
            max(self.peak_mb, other.peak_mb),
        )


def attacked(played: Path, folder: Path, seed: int, first: int, behind: int) -> Tally:
    """The requests of these numbers on a copy of the story."""
    begun = process_time()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(passphrase_and_pin, "POLICY", LIGHT)
        plans_kept(patch)
        shop = open_copy(played, folder)
        shop.app.config["PROPAGATE_EXCEPTIONS"] = False
        tally = Attack(shop, seed).run(first, behind)
        shop.store.close()
    tally.busy_s = process_time() - begun
    tally.peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return tally


class Attack:
    """Seeded: the same seed sends the same requests."""

    def __init__(self, shop: WholeShop, seed: int) -> None:
        self.shop, self.chance, self.tally = shop, random.Random(seed), Tally()
        self.flood = [self._text() for _ in range(3000)]
        self.clients: dict[str, FlaskClient] = {}
        self.tokens: dict[str, str] = {}
        self.pages, self.forms = self._harvest()
        self.seen = self._version()
        self.held, self.audited = rows_of(shop.store.db.conn), self._last_audited()
        self.places: list[str] = []
        logging.getLogger("fitcounter").addHandler(_Places(self.places))

    def _harvest(self) -> tuple[list[str], dict[str, Form]]:
        """Every address of every rule, and the forms by where they go; a POST without a form is one
        with nothing in it.
        """
        owner, pages, forms = self.shop.signed_in("owner"), list[str](), dict[str, Form]()
        for rule in rules(self.shop.app):
            for address in addresses(self.shop, rule):
                pages.append(address)
                if "GET" in rule.methods and not address.endswith((*DEAR, ".ics")):
                    page = owner.get(address)
                    if page.mimetype == "text/html":
                        reader = Forms(address)
                        reader.feed(page.text)
                        forms |= {
                            one.action: one
                            for one in reader.found
                            if one.action not in forms
                            or len(one.fields) > len(forms[one.action].fields)
                        }
                if "POST" in rule.methods:
                    forms.setdefault(address, Form(address))
        return pages, forms

    def _last_audited(self) -> int:
        return int(self.shop.store.value("SELECT max(id) FROM audit"))

    def _version(self) -> int:
        return int(self.shop.store.value("PRAGMA data_version"))

    def client(self, role: str) -> FlaskClient:
        """A device of this role; another where one of the requests signed it out."""
        if role not in self.clients:
            self.clients[role] = self.shop.signed_in(role)
            page = self.clients[role].get("/sign-in")
            found = re.search(r'name="csrf[-_]token" (?:value|content)="([^"]+)"', page.text)
            self.tokens[role] = found.group(1) if found else ""
        return self.clients[role]

    def run(self, first: int, behind: int) -> Tally:
        """The requests of these numbers."""
        actions = sorted(self.forms)
        for n in range(first, behind):
            if (
                n - first
                # devices of all are whole again, and nobody has to wait for a guess of before
            ) % 200 == 0:
                with self.shop.store.write_tx():
                    self.shop.store.db.execute("UPDATE staff SET active = 1")
                    self.shop.store.db.execute("DELETE FROM throttle")
                self.held, self.audited, self.seen = (
                    rows_of(self.shop.store.db.conn),
                    self._last_audited(),
                    self._version(),
                )
            if n % 5:
                self._form(self.forms[actions[(n - n // 5) % len(actions)]])
            else:
                self._page(self.pages[n // 5 % len(self.pages)])
        return self.tally

    def _form(self, form: Form) -> None:
        role = self.chance.choice(ROLES)
        fields = [
            (name, value)
            for name, value in form.fields
            if name not in ("csrf_token", "submission_id")
        ]
        self.client(role)
        fields += [
            ("csrf_token", self.tokens[role]),
            ("submission_id", f"hostile-{self.chance.getrandbits(80):020x}"),
        ]
        more: dict[str, Any] = {"headers": {}}
        for _ in range(self.chance.choice((1, 1, 1, 2, 4))):
            fields = self._wrong(fields, more)
        body = "&".join(f"{quote_plus(name)}={_encoded(value)}" for name, value in fields)
        address = self._address(form.action)
        self._send(
            role,
            address,
            fields,
            form.typed,
            method="POST",
            data=body,
            **{"content_type": "application/x-www-form-urlencoded", **more},
        )

    def _page(self, address: str) -> None:
        role = self.chance.choice(ROLES)
        if address.endswith(DEAR) and self.chance.random() > 0.02:
            return
        where = self._address(address)
        if self.chance.random() < 0.5:
            where += "?" + "&".join(
                f"{name}={quote_plus(self._text())}"
                for name in (
                    "q",
                    "do",
                    "scan",
                    "depth",
                    "language",
                    "next",
                    "ticket",
                    "boot",
                    "how",
                )
            )
        name, value = self.chance.choice(HEADERS)
        self._send(
            role, where, [], set(), method=self.chance.choice(METHODS), headers={name: value}
        )

    def _wrong(self, fields: list[tuple[str, str]], more: dict[str, Any]) -> list[tuple[str, str]]:
        """One more thing that is wrong."""
        at = self.chance.randrange(len(fields)) if fields else 0
        how = self.chance.random()
        if how < 0.55 and fields:
            fields[at] = (fields[at][0], self._text())
        elif how < 0.62:
            fields = fields[:at] + fields[at + 1 :]
        elif how < 0.68 and fields:
            fields.append((fields[at][0], self._text()))
        elif how < 0.72 and fields:
            fields[at] = (fields[at][0], "x" * self.chance.choice((5000, 70_000)))
        elif how < 0.78 and fields:
            fields[at] = (
                fields[at][0],
                self.chance.choice(("%ff", "%C0%AF", "%ED%A0%80", "%00", "%", "%zz", "%F0%9F")),
            )
        elif how < 0.84:
            fields.append(
                (
                    self.chance.choice(
                        (
                            "role",
                            "state",
                            "id",
                            "version",
                            "who",
                            "pin",
                            "catch_up",
                            "confirmed",
                            "",
                            "\0",
                        )
                    ),
                    self._text(),
                )
            )
        elif how < 0.88:
            more["content_type"] = self.chance.choice(TYPES)
        elif how < 0.96:
            name, value = self.chance.choice(HEADERS)
            more["headers"][name] = value
        else:
            fields = [
                (self.chance.choice(self.flood) or "x", self.chance.choice(self.flood))
                for _ in range(self.chance.choice((3, 700)))
            ]
        return fields

    def _text(self) -> str:
        if self.chance.random() < 0.7:
            return self.chance.choice(STRANGE)
        signs = [
            chr(
                self.chance.choice(
                    (
                        self.chance.randrange(32, 127),
                        self.chance.randrange(0x2FF),
                        self.chance.randrange(0xE000, 0x10FFFF),
                    )
                )
            )
            for _ in range(12)
        ]
        return "".join(signs[: self.chance.randrange(1, 12)])

    def _address(self, address: str) -> str:
        """Now and then with another number, or one that is none."""
        if self.chance.random() < 0.15:
            other = self.chance.choice(
                (
                    "0",
                    "1",
                    "2",
                    "7",
                    "43",
                    "99999",
                    "9" * 18,
                    "9" * 30,
                    "-1",
                    "%D9%A1",
                    "1.0",
                    "%00",
                    "a%2f..%2fb",
                )
            )
            return re.sub(r"\d+", other, address, count=1)
        return address

    def _send(
        self, role: str, address: str, fields: list[tuple[str, str]], typed: set[str], **more: Any
    ) -> None:
        try:
            answer = self.client(role).open(address, **more)
        except UnicodeError:  # the test's own client cannot say it
            return
        self.tally.codes[answer.status_code] += 1
        for fault in self._judge(answer, fields, typed):
            self.tally.broken.append(
                f"{fault}: {more['method']} {address[:90]} {str(fields)[:3000]}"
                f" {more.get('headers')} {more.get('content_type')}"
            )
        if self._is_out(role, answer, fields):
            del self.clients[role]

    def _is_out(self, role: str, answer: TestResponse, fields: list[tuple[str, str]]) -> bool:
        """Signed out, or a stranger to its own token by now: something that was sent did it."""
        led_out = answer.status_code == 401 or (answer.location or "").startswith("/sign-in")
        return (bool(role) and led_out) or (
            answer.status_code == 400 and ("csrf_token", self.tokens.get(role, "")) in fields
        )

    def _judge(
        self, answer: TestResponse, fields: list[tuple[str, str]], typed: set[str]
    ) -> Iterator[str]:
        """What must not be, in words."""
        code, is_page = answer.status_code, answer.mimetype == "text/html"
        if code >= 500:
            yield f"{code} at {self.places[-1:]}"
        if is_page and "Traceback (most recent" in answer.text:
            yield "traceback"
        if self._version() != self.seen:
            held, self.seen = rows_of(self.shop.store.db.conn), self._version()
            changed = [name for name in held if held[name] != self.held[name]]
            if changed == ["audit"] and self._only_noted():
                changed = []
            if changed and code not in (200, 204, 302, 303):
                yield f"{code} changed {changed}"
            self.held, self.audited = held, self._last_audited()
        if code == 422 and is_page:
            self.tally.shown += 1
            missing = [
                (name, value)
                for name, value in fields
                if name in typed and not self._shown(name, value, fields, answer.text)
            ]
            if missing:
                yield f"lost {missing}"

    def _only_noted(self) -> bool:
        """Is a refused sign-in all that the audit has gained?"""
        rows = self.shop.store.rows("SELECT what FROM audit WHERE id > ?", self.audited)
        return all(row["what"] == "sign-in-refused" for row in rows)

    def _shown(self, name: str, value: str, fields: list[tuple[str, str]], page: str) -> bool:
        """Is what a hand typed in this field on the page? What no page can show, or nobody types,
        is not looked for.
        """
        if (
            name in (*UNTYPED, "setup_token")
            or value.startswith("%")
            or len(value) > 4001
            or sum(1 for one, _ in fields if one == name) > 1
        ):
            return True
        text = clean(value)
        if not text or not text.isprintable():
            return True
        return text in unescape(page)


class _Places(logging.Handler):
    """Keeps what the log says of an incident."""

    def __init__(self, places: list[str]) -> None:
        super().__init__()
        self.places = places

    def emit(self, record: logging.LogRecord) -> None:
        self.places.append(record.getMessage())
