"""What every answer carries, whatever it is: a page, a paper, a file, an error; over HTTP and over
HTTPS.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from support.whole_shop import WholeShop, addresses, open_copy, rules
from werkzeug.test import TestResponse

from fitcounter.settings import Settings
from fitcounter.web import create_app
from fitcounter.web.guards import request_size
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


def ask(
    shop: WholeShop, client: FlaskClient, address: str, method: str = "GET", **more: object
) -> TestResponse:
    return client.open(address, method=method, base_url=shop.base_url, **more)


def test_every_page_paper_and_file_carries_them(either: WholeShop) -> None:
    """A crawl over every rule that opens by GET, as owner and as a stranger: 100 % of the
    answers.
    """
    seen = 0
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
                    check(answer, either.app.config["SETTINGS"].https)
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


def test_a_form_is_saved_over_https_too(whole_https: WholeShop) -> None:
    """Pages that send no referrer, a browser that sends an Origin: the form's token and the Origin
    are enough.
    """
    client = whole_https.signed_in("bench")
    page = ask(whole_https, client, "/items/44").text
    token = re.search(r'name="csrf_token" value="([^"]+)"', page)
    assert token
    typed = {
        "csrf_token": token.group(1),
        "submission_id": "https-save-00001",
        "word": "scuffs",
        "place": "toe",
    }
    plain = ask(
        whole_https,
        client,
        "/items/44/finding",
        "POST",
        data=typed,
        headers={"Origin": "http://localhost"},
    )
    assert plain.status_code == 403, "the plain page of the same name is another site"
    answer = ask(
        whole_https,
        client,
        "/items/44/finding",
        "POST",
        data=typed,
        headers={"Origin": "https://localhost"},
    )
    assert answer.status_code == 303
    assert (
        whole_https.store.value(
            "SELECT place FROM findings WHERE item_id = 44 ORDER BY id DESC LIMIT 1"
        )
        == "toe"
    )


@pytest.mark.parametrize(
    ("headers", "code"),
    [
        ({}, 422),
        ({"Origin": "http://localhost"}, 422),
        ({"Origin": "null", "Sec-Fetch-Site": "same-origin"}, 422),
        ({"Sec-Fetch-Site": "same-origin"}, 422),
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "http://localhost.evil.example"}, 403),
        ({"Origin": "http://localhost:81"}, 403),
        ({"Origin": "null"}, 422),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Sec-Fetch-Site": "same-site"}, 403),
        ({"Origin": "null", "Sec-Fetch-Site": "cross-site"}, 403),
        ({"Origin": "rubbish"}, 403),
        ({"Origin": "http://localhost@evil.example"}, 403),
    ],
)
def test_a_form_of_another_site_is_refused_even_with_a_token(
    whole: WholeShop, headers: dict[str, str], code: int
) -> None:
    """403, and nothing that came is shown back, so that no other site can fill in a form for
    somebody to confirm.
    """
    client = whole.signed_in("counter")
    token = re.search(r'name="csrf_token" value="([^"]+)"', client.get("/new").text)
    assert token
    answer = client.post(
        "/new", data={"csrf_token": token.group(1), "name": "Filled-in-elsewhere"}, headers=headers
    )
    assert answer.status_code == code
    assert ("Filled-in-elsewhere" in answer.text) is (code == 422)


def test_every_rule_that_writes_wants_its_token(whole: WholeShop) -> None:
    """No token, 400, on every POST of the program; the file stays as it was."""
    client = whole.signed_in("owner")
    client.get("/me")
    before = whole.store.value("SELECT count(*) FROM audit")
    asked = 0
    for rule in rules(whole.app):
        if "POST" in rule.methods:
            for address in addresses(whole, rule):
                assert client.post(address, data={"name": "x"}).status_code == 400, address
                asked += 1
    assert asked > 60
    assert whole.store.value("SELECT count(*) FROM audit") == before


def test_reading_changes_nothing(whole: WholeShop) -> None:
    """Every GET of the program, as owner: the content of the file is the same afterwards."""
    client = whole.signed_in("owner")
    tables = [
        str(row["name"])
        for row in whole.store.rows("SELECT name FROM sqlite_master WHERE type = 'table'")
        if row["name"] not in ("sessions", "throttle")
    ]

    def content() -> dict[str, str]:
        return {
            table: repr(whole.store.rows(f"SELECT * FROM {table} ORDER BY 1")) for table in tables
        }

    before = content()
    for rule in rules(whole.app):
        if "GET" in rule.methods:
            for address in addresses(whole, rule):
                client.get(address)
    after = content()
    assert [table for table in tables if before[table] != after[table]] == []


@pytest.mark.parametrize("method", ["TRACE", "PUT", "DELETE", "PATCH", "CONNECT"])
def test_no_rule_knows_another_method(whole: WholeShop, method: str) -> None:
    """405 on every rule, with the methods that there are."""
    client = whole.signed_in("owner")
    for rule in rules(whole.app):
        answer = client.open(next(addresses(whole, rule)), method=method)
        assert answer.status_code == 405, rule.rule
        assert "Allow" in answer.headers


def test_a_host_that_is_not_ours_gets_no_page(whole: WholeShop) -> None:
    """Another name in Host is refused; a forwarded one is not looked at without a proxy of ours."""
    client = whole.signed_in("")
    assert client.get("/sign-in", headers={"Host": "evil.example"}).status_code == 400
    answer = client.get(
        "/", headers={"X-Forwarded-Host": "evil.example", "X-Forwarded-Proto": "https"}
    )
    assert (answer.status_code, answer.location) == (303, "/sign-in?next=/")
    assert "Strict-Transport-Security" not in answer.headers


def test_behind_one_proxy_of_ours_its_word_counts_for_address_and_scheme(tmp_path: Path) -> None:
    """proxies=1: the last address and the scheme it names; never the host."""
    app: Flask = create_app(
        Settings(
            data_dir=tmp_path, testing=True, https=True, proxies=1, base_url="https://localhost"
        )
    )
    client = app.test_client()
    headers = {
        "X-Forwarded-For": "203.0.113.9, 198.51.100.4",
        "X-Forwarded-Proto": "https",
        "X-Forwarded-Host": "evil.example",
    }
    with client:
        from flask import request

        answer = client.get("/sign-in", headers=headers)
        assert (request.remote_addr, request.scheme, request.host) == (
            "198.51.100.4",
            "https",
            "localhost",
        )
    assert answer.status_code == 200
    assert "Strict-Transport-Security" in answer.headers


@pytest.mark.parametrize("fields", [request_size.MOST_FIELDS + 1, 5000])
def test_a_form_of_too_many_fields_is_too_large(whole: WholeShop, fields: int) -> None:
    """413, though it is small in bytes: the framework's own limit guards multipart alone."""
    client = whole.signed_in("counter")
    assert (
        client.post(
            "/new",
            data="&".join(["a=1"] * fields)[:60_000],
            content_type="application/x-www-form-urlencoded",
        ).status_code
        == 413
    )


def test_a_large_body_is_taken_by_photos_and_the_paper_list_only_and_never_from_a_stranger(
    whole: WholeShop,
) -> None:
    """Every other view stops at 64 KB; a stranger's 2 MB are not even read."""
    for rule in rules(whole.app):
        if "POST" in rule.methods:
            takes = hasattr(whole.app.view_functions[rule.endpoint], "most_bytes")
            photo = "/photo" in rule.rule and "erase" not in rule.rule
            assert takes is (photo or rule.rule.startswith("/already/list")), rule.rule
    body = (
        b'--x\r\nContent-Disposition: form-data; name="photo"; filename="x.jpg"\r\n\r\n'
        + b"x" * 2_000_000
        + b"\r\n--x--\r\n"
    )
    for path in ("/items/44/photos", f"/c/{'A' * 22}/photo"):
        answer = whole.signed_in("").post(
            path, data=body, content_type="multipart/form-data; boundary=x"
        )
        assert answer.status_code == 413, path
