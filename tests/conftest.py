"""The small cast of the tests: counter, bench, owner, a stranger; and a driver, so that tests read as the counter talks."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from fitcounter.desk import people, shop
from fitcounter.desk.shop import Act, Store, open_store
from fitcounter.settings import Settings
from fitcounter.web import create_app

PASSPHRASE = "four plain oak words"
CAST = {"CO": ("Cora", "counter"), "BE": ("Ben", "bench"), "OW": ("Odile", "owner")}


@dataclass
class Clock:
    """A clock that tests move by hand."""

    now: datetime = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def on(self, **lapse: float) -> datetime:
        self.now += timedelta(**lapse)
        return self.now


@dataclass
class Counter:
    """Somebody at a phone: opens pages, sends forms with their token, and says what came back."""

    client: FlaskClient
    initials: str = ""
    pages: list[str] = field(default_factory=list)

    def sign_in(self) -> Counter:
        self.get("/sign-in")
        answer = self.post("/sign-in", initials=self.initials, passphrase=PASSPHRASE)
        assert answer.status_code == 303, answer.text
        return self

    def get(self, path: str, **more: object) -> TestResponse:
        answer = self.client.get(path, **more)  # type: ignore[arg-type]
        if answer.mimetype == "text/html":
            self.pages.append(answer.text)
        return answer

    def post(self, path: str, /, **data: object) -> TestResponse:
        """Sends a form with the token of the last page seen."""
        return self.send(path, data)

    def send(self, path: str, data: dict[str, object], **more: object) -> TestResponse:
        token = self.token()
        return self.client.post(path, data={"csrf_token": token, **data}, **more)  # type: ignore[arg-type]

    def token(self) -> str:
        for page in reversed(self.pages):
            found = re.search(r'name="csrf[-_]token" (?:value|content)="([^"]+)"', page)
            if found:
                return found.group(1)
        return ""


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="session")
def hashed() -> str:
    """One slow hash for the whole run."""
    return people.hash_passphrase(PASSPHRASE)


@pytest.fixture
def store(tmp_path: Path, clock: Clock, hashed: str) -> Iterator[Store]:
    """A real file with the cast in it."""
    opened = open_store(tmp_path / "shop.db")
    with opened.write_tx():
        for initials, (name, role) in CAST.items():
            opened.insert("staff", name=name, initials=initials, role=role, passphrase_hash=hashed, created_at="2026-01-01T00:00:00Z")
    shop.choose(opened, Act(clock.now), name="Quillmarsh Leather Bench", phone="(555) 010-0199", zone="America/New_York")
    yield opened
    opened.close()


@pytest.fixture
def app(store: Store, tmp_path: Path, clock: Clock) -> Flask:
    return create_app(Settings(data_dir=tmp_path, testing=True), clock)


@pytest.fixture
def somebody(app: Flask) -> Callable[[str], Counter]:
    """Signs in one of the cast: CO, BE, OW; '' is the stranger."""

    def make(initials: str) -> Counter:
        one = Counter(app.test_client(), initials)
        return one.sign_in() if initials else one

    return make


@pytest.fixture
def counter(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("CO")


@pytest.fixture
def bench(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("BE")


@pytest.fixture
def owner(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("OW")


@pytest.fixture
def stranger(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("")
