"""The cast of the tests: a clock moved by hand, and somebody at a phone who opens pages and sends
forms.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from fitcounter.desk.shop import Store
from fitcounter.desk.staff import sign_in

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
    clock: Clock | None = (
        None  # with it, somebody who was away for long signs in again before going on
    )
    last: datetime | None = None

    def sign_in(self) -> Counter:
        self.last = self.clock.now if self.clock else None
        self.get("/sign-in")
        answer = self.post("/sign-in", initials=self.initials, passphrase=PASSPHRASE)
        assert answer.status_code == 303, answer.text
        return self

    def let_in(self) -> Counter:
        """Signed in without the form, which took a quarter of a test of a page: what it asks the
        desk for is asked for here, and the cookie is put where it puts it.
        """
        self.last = self.clock.now if self.clock else None
        app = self.client.application
        store = Store(app.config["SETTINGS"].data_dir / "shop.db")
        try:
            token = sign_in.sign_in(
                store, app.config["CLOCK"](), self.initials, PASSPHRASE, sign_in.Device("127.0.0.1")
            )
        finally:
            store.close()
        with self.client.session_transaction() as session:
            session.clear()
            session["token"] = token
            session.permanent = True
        return self

    def back(self) -> None:
        """Signs in again where nothing was done for half an hour."""
        if self.clock and self.last and self.clock.now - self.last >= timedelta(minutes=30):
            self.let_in().get("/me")  # a page of the new session, for its token
        self.last = self.clock.now if self.clock else None

    def get(self, path: str, **more: object) -> TestResponse:
        self.back()
        answer = self.client.get(path, **more)  # type: ignore[arg-type]
        if answer.mimetype == "text/html":
            self.pages.append(answer.text)
        return answer

    def post(self, path: str, /, **data: object) -> TestResponse:
        """Sends a form with the token of the last page seen."""
        return self.send(path, data)

    def send(self, path: str, data: dict[str, object], **more: object) -> TestResponse:
        self.back()
        token = self.token()
        return self.client.post(path, data={"csrf_token": token, **data}, **more)

    def token(self) -> str:
        for page in reversed(self.pages):
            found = re.search(r'name="csrf[-_]token" (?:value|content)="([^"]+)"', page)
            if found:
                return found.group(1)
        return ""
