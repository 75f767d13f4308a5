"""What answers say to browsers beyond their security headers: kinds, caches, other sites, and files
that are nobody's business.
"""

from __future__ import annotations

import pytest
from support.whole_shop import WholeShop, addresses, rules

# What a phone may hold: the worker and the page of nobody; its own calendar; a picture of a boot
# for an hour, wiped at signing out.
KEPT = {
    "app_shell.worker": "no-cache",
    "customer.worker": "no-cache",
    "customer.feed": "private, no-cache",
    "photos.show": "private, max-age=3600",
}


def test_each_answer_says_its_kind_and_is_kept_by_nobody_and_lent_to_no_other_site(
    whole_https: WholeShop,
) -> None:
    """Charset on every text; no-store but on files with a version; no CORS; HTTPS for a year, also
    under the shop's name (3.4.1, 3.4.2, 4.1.1, 14.3.2).
    """
    seen = 0
    for role in ("owner", ""):
        client = whole_https.signed_in(role)
        for rule in rules(whole_https.app):
            if "GET" not in rule.methods:
                continue
            for address in addresses(whole_https, rule):
                answer = client.get(address, base_url=whole_https.base_url)
                headers, seen = answer.headers, seen + 1
                assert "Access-Control-Allow-Origin" not in headers, address
                assert (
                    headers["Strict-Transport-Security"] == "max-age=31536000; includeSubDomains"
                ), address
                if answer.data:
                    assert answer.mimetype, address
                    if answer.mimetype.startswith("text/"):
                        assert "charset=utf-8" in headers["Content-Type"].split("; "), (
                            address,
                            headers["Content-Type"],
                        )
                    starts = {
                        "application/pdf": b"%PDF-",
                        "image/jpeg": b"\xff\xd8",
                        "text/html": b"<!",
                    }.get(answer.mimetype, b"")
                    assert answer.data.startswith(starts), address
                if not address.startswith("/static/") and answer.status_code == 200:
                    assert headers["Cache-Control"] == KEPT.get(rule.endpoint, "no-store"), (
                        address,
                        rule.endpoint,
                    )
    assert seen > 100


@pytest.mark.parametrize(
    "path",
    [
        "/.git/config",
        "/.git/",
        "/.env",
        "/static/",
        "/static",
        "/photos/",
        "/shop.db",
        "/keys.json",
        "/static/../keys.json",
        "/static/%2e%2e/fitcounter/cli.py",
        "/fitcounter/settings.py",
        "/pyproject.toml",
        "/docs",
        "/openapi.json",
        "/swagger",
        "/metrics",
        "/debug",
        "/console",
        "/server-status",
        "/graphql",
        "/admin",
    ],
)
def test_no_folder_no_source_and_no_key_can_be_fetched(whole: WholeShop, path: str) -> None:
    """Not even by the owner: 404, or a way to the file's own address that is 404 too (13.4.1,
    13.4.3, 13.4.5).
    """
    answer = whole.signed_in("owner").get(path, follow_redirects=True)
    assert answer.status_code == 404
    assert "Traceback" not in answer.text


def test_nothing_of_the_workshop_of_the_program_is_switched_on(whole: WholeShop) -> None:
    """No debugger, no reloader, no test rule among the addresses (13.4.2, 15.2.3)."""
    assert whole.app.debug is False
    assert whole.app.jinja_env.auto_reload is False
    assert [
        rule.rule
        for rule in rules(whole.app)
        if "test" in rule.rule or "debug" in rule.rule or "demo" in rule.rule
    ] == []
