"""What answers say to browsers beyond their security headers, and files that are nobody's business.
Kinds, caches and other sites are asked of every answer in tests/web/responses/
test_security_headers.py.
"""

from __future__ import annotations

import pytest
from support.whole_shop import WholeShop, rules


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
