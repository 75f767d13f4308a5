"""The owner's mail account: typed, kept with the keys, tried, and never shown or taken out."""

from __future__ import annotations

import ssl
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.cast import Counter
from support.mail_server import PASSWORD, USER, MailServer, certificate_for, mail_server

from fitcounter.desk.data.whole_shop import WholeShop
from fitcounter.store.database import Store


@pytest.fixture
def server(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[MailServer]:
    tls: tuple[ssl.SSLContext, Path] = certificate_for(tmp_path / "mail")
    monkeypatch.setenv("SSL_CERT_FILE", str(tls[1]))
    with mail_server(tls[0]) as made:
        yield made


def form(server: MailServer, **changed: object) -> dict[str, object]:
    typed = {"host": "localhost", "port": str(server.port), "security": "starttls"}
    own = {"user": USER, "passphrase": PASSWORD, "sender": USER, "kinds": ["ready", "calendar"]}
    return {**typed, **own, **changed}


def test_the_owner_types_the_account_and_a_test_arrives(
    owner: Counter, server: MailServer, store: Store, tmp_path: Path, clock
):
    """The password lies with the keys, readable by the shop alone; no page and no export has it."""
    owner.get("/shop/mail")
    assert owner.post("/shop/mail", **form(server)).status_code == 303
    page = owner.get("/shop/mail").text
    assert 'value="localhost"' in page
    assert PASSWORD not in page
    assert owner.post("/shop/mail/try", to="odile@example.org").status_code == 303
    assert "Sent to odile@example.org" in owner.get("/shop/mail").text
    (message,) = server.received
    assert message["Subject"] == "Test from Quillmarsh Leather Bench"
    keys = tmp_path / "keys.json"
    assert PASSWORD in keys.read_text()
    assert stat.S_IMODE(keys.stat().st_mode) == 0o600
    assert PASSWORD.encode() not in b"".join(WholeShop(tmp_path, clock.now).as_json())
    assert PASSWORD not in str(store.rows("SELECT * FROM settings"))

    assert owner.post("/shop/mail", **form(server, passphrase="", port="587")).status_code == 303
    assert PASSWORD in keys.read_text(), "an empty field keeps the password"
    assert owner.post("/shop/mail", **form(server, host="", passphrase="")).status_code == 303
    assert PASSWORD not in keys.read_text()
    assert owner.get("/").status_code == 200, "and everybody is still signed in"


def test_a_test_that_fails_says_what_is_wrong(owner: Counter, server: MailServer):
    owner.get("/shop/mail")
    owner.post("/shop/mail", **form(server, passphrase="not this one"))
    owner.get("/shop/mail")
    answer = owner.post("/shop/mail/try", to="odile@example.org")
    assert answer.status_code == 422
    assert "refused the user name or the password" in answer.text
    assert "not this one" not in answer.text
    assert server.received == []


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("host", "smtp.example.org\r\nRCPT TO:<x@example.org>"),
        ("host", "smtp example"),
        ("port", "0"),
        ("port", "99999"),
        ("security", "none"),
        ("sender", "shop@example.org, other@example.org"),
        ("sender", "shop@example.org\nBcc: x@example.org"),
        ("sender", ""),
    ],
)
def test_what_cannot_be_an_account_is_refused_at_its_field(
    owner: Counter, store: Store, field: str, typed: str
):
    nowhere = MailServer(port=465)
    owner.get("/shop/mail")
    answer = owner.post("/shop/mail", **form(nowhere, **{field: typed}))
    assert answer.status_code == 422
    assert PASSWORD not in answer.text
    assert store.value("SELECT count(*) FROM settings WHERE key = 'mail'") == 0


def test_what_goes_out_by_itself_is_ticked_and_stands_ticked(owner: Counter, server: MailServer):
    owner.get("/shop/mail")
    owner.post("/shop/mail", **form(server))
    page = " ".join(owner.get("/shop/mail").text.split())
    assert '<input type="checkbox" name="kinds" value="ready" checked>' in page
    assert '<input type="checkbox" name="kinds" value="late">' in page
