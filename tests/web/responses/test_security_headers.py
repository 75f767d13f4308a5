"""What every answer carries, whatever it is: a page, a paper, a file, an error; over HTTP and over
HTTPS.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest
from support.whole_shop import WholeShop, addresses, ask, open_copy, rules
from web.responses.kind_and_keeping import check_kind
from werkzeug.test import TestResponse

from fitcounter.web.responses.security_headers import OF_A_FILE, POLICY

DEFAULT = "default-src 'none'"
NEVER_IN_POLICY = ("unsafe-inline", "unsafe-eval", "unsafe-hashes", "http:", "https:", "*")


class Inline(HTMLParser):
    """Collects what a strict content policy would block: inline scripts, styles, event attributes,
    javascript: addresses.
    """

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = dict(attrs)
        if (tag == "script" and "src" not in names) or tag == "style":
            self.found.append(f"<{tag}>")
        self.found += [
            f"{tag} {name}"
            for name, value in attrs
            if name.startswith("on")
            or name == "style"
            or (value or "").strip().lower().startswith("javascript:")
        ]


def check(answer: TestResponse, secure: bool) -> None:
    """Every header, the cookies and the page of one answer."""
    headers, where = (
        answer.headers,
        f"{answer.request.method} {answer.request.path} {answer.status_code}",
    )
    policy = headers.get("Content-Security-Policy", "")
    assert policy.startswith(DEFAULT), where
    sources = [source for rule in policy.split(";") for source in rule.split()[1:]]
    assert not set(sources) & set(NEVER_IN_POLICY), where
    if "sandbox" not in policy:
        for rule in (
            "object-src 'none'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
            "form-action 'self'",
        ):
            assert rule in policy, where
    assert headers["X-Content-Type-Options"] == "nosniff", where
    assert headers["Referrer-Policy"] in ("same-origin", "no-referrer"), where
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin", where
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin", where
    assert headers["Permissions-Policy"] == "camera=(self), microphone=(), geolocation=()", where
    assert ("Strict-Transport-Security" in headers) is secure, where
    assert "Server" not in headers or "Werkzeug" not in headers["Server"], where
    if answer.mimetype == "text/html":
        page = Inline()
        page.feed(answer.text)
        assert page.found == [], where
        assert "Traceback" not in answer.text, where
        assert headers["Content-Type"] == "text/html; charset=utf-8", where
    for cookie in headers.getlist("Set-Cookie"):
        check_cookie(cookie, secure)


def check_cookie(cookie: str, secure: bool) -> None:
    name = cookie.split("=", 1)[0]
    parts = {part.strip().lower() for part in cookie.split(";")[1:]}
    assert {"httponly", "samesite=lax", "path=/"} <= parts, cookie
    assert ("secure" in parts) is secure, cookie
    assert name.startswith("__Host-") is secure, cookie
    assert not any(part.startswith("domain") for part in parts), cookie
    assert len(cookie) < 4096


@pytest.fixture(params=[False, True], ids=["http", "https"])
def either(
    request: pytest.FixtureRequest, played: Path, tmp_path: Path, papers_once: None
) -> Iterator[WholeShop]:
    """The whole shop, over plain HTTP and over HTTPS."""
    shop = open_copy(played, tmp_path / "whole", https=request.param)
    yield shop
    shop.store.close()


def test_every_page_paper_and_file_carries_them(either: WholeShop) -> None:
    """A crawl over every rule that opens by GET, as owner and as a stranger: 100 % of the
    answers. Each says its kind, is kept by nobody and lent to no other site.
    """
    seen, secure = 0, either.app.config["SETTINGS"].https
    for role in ("owner", ""):
        client = either.signed_in(role)
        for rule in rules(either.app):
            if "GET" in rule.methods:
                for address in addresses(either, rule):
                    answer = ask(either, client, address)
                    assert answer.status_code < 500 or answer.status_code == 503, (
                        address,
                        answer.status_code,
                    )
                    check(answer, secure)
                    check_kind(answer, address, rule.endpoint, secure)
                    seen += 1
    assert seen > 100


def test_a_file_may_load_nothing_and_a_page_in_its_place_its_own_style(either: WholeShop) -> None:
    client = either.signed_in("")
    version = either.app.config["VERSION"]
    script = ask(either, client, f"/static/{version}/js/offline_count.js")
    missing = ask(either, client, f"/static/{version}/js/none.js")

    assert (script.status_code, missing.status_code) == (200, 404)
    assert script.headers["Content-Security-Policy"] == OF_A_FILE
    assert missing.mimetype == "text/html"
    assert missing.headers["Content-Security-Policy"] == POLICY


@pytest.mark.parametrize(
    ("method", "address", "more", "code"),
    [
        ("GET", "/no/such/page", {}, 404),
        ("GET", "/items/999999", {}, 404),
        ("GET", "/sign-out", {}, 405),
        ("PUT", "/new", {}, 405),
        ("DELETE", "/items/44", {}, 405),
        ("TRACE", "/", {}, 405),
        ("OPTIONS", "/", {}, 200),
        ("HEAD", "/", {}, 200),
        ("POST", "/new", {"data": {"name": "x" * 70_000}}, 413),
        ("POST", "/new", {"data": "{}", "content_type": "application/json"}, 415),
        ("POST", "/new", {"data": {"name": "x"}}, 400),
        ("GET", "/find?q=" + "x" * 3000, {}, 414),
        ("GET", "/static/none.css", {}, 302),
        ("GET", "/c/" + "A" * 22, {}, 404),
        (
            "POST",
            "/new",
            {"data": {"name": "x"}, "headers": {"Origin": "https://evil.example"}},
            403,
        ),
        ("GET", "/", {"headers": {"Host": "evil.example"}}, 400),
    ],
)
def test_every_error_carries_them(
    either: WholeShop, method: str, address: str, more: dict[str, object], code: int
) -> None:
    """Not found, wrong method, too large, no form, no token, another site, another host."""
    answer = ask(either, either.signed_in("owner"), address, method, **more)
    assert answer.status_code == code
    check(answer, either.app.config["SETTINGS"].https)


def test_an_error_nobody_foresaw_carries_them(either: WholeShop) -> None:
    """500 has a page of its own, with a word to tell the owner."""

    def broken() -> str:
        raise RuntimeError("Okafor-Lind 0142")

    either.app.config["PROPAGATE_EXCEPTIONS"] = False
    broken.allowed = ("anyone",)  # type: ignore[attr-defined]
    either.app.view_functions["app_shell.offline"] = broken
    answer = ask(either, either.signed_in(""), "/offline")
    assert answer.status_code == 500
    assert re.search(r"tell the owner this code: [0-9a-f]{8}", answer.text)
    assert "Okafor" not in answer.text
    check(answer, either.app.config["SETTINGS"].https)
