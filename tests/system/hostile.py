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
from pathlib import Path
from time import process_time
from typing import Any
from urllib.parse import quote_plus

import pytest
from flask.testing import FlaskClient
from support.disk_trouble import plans_kept, rows_of
from support.whole_shop import LIGHT, WholeShop, addresses, open_copy, rules
from system.post_forms import Form, Forms
from system.wrong_requests import HEADERS, METHODS, Spoiler
from werkzeug.test import TestResponse

from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.web.forms.saved_form import UNTYPED, clean

ROLES = ("owner", "owner", "counter", "bench", "")

DEAR = (
    ".pdf",
    "everything.csv",
    "everything.json",
)  # papers take long to set; a few of each are enough


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
        self.spoiler = Spoiler(self.chance)
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
            fields = self.spoiler.wrong(fields, more)
        body = "&".join(f"{quote_plus(name)}={_encoded(value)}" for name, value in fields)
        address = self.spoiler.address(form.action)
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
        where = self.spoiler.address(address)
        if self.chance.random() < 0.5:
            where += "?" + "&".join(
                f"{name}={quote_plus(self.spoiler.text())}"
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
