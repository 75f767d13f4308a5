"""Who may open what: every rule of the program, every person, against a table that was read by
people; by which methods, and that reading changes nothing.
"""

from __future__ import annotations

import csv
import re

import pytest
from flask.testing import FlaskClient
from support.living_file import opened_otherwise
from support.paths import REFERENCE
from support.whole_shop import WholeShop, addresses, rules
from werkzeug.test import TestResponse

TABLE = REFERENCE / "access.csv"
PEOPLE = ("stranger", "customer", "bench", "counter", "owner")
NOBODYS_TOKEN = "A" * 22
LAST = ("owner.sign_out",)


def methods(rule) -> list[str]:
    return sorted(rule.methods & {"GET", "POST"})


def token_of(client: FlaskClient) -> str:
    found = re.search(
        r'name="csrf[-_]token" (?:value|content)="([^"]+)"', client.get("/sign-in").text
    )
    assert found
    return found.group(1)


def outcome(answer: TestResponse, name: str) -> str:
    """in: the view itself answered. Else how it was refused."""
    if (
        answer.request.method == "GET"
        and answer.status_code == 303
        and answer.location.startswith("/sign-in")
    ):
        return "sign in"
    if answer.status_code in (401, 403):
        return str(answer.status_code)
    return "404" if answer.status_code == 404 and name in ("stranger", "customer") else "in"


def found(shop: WholeShop) -> dict[tuple[str, str], dict[str, str]]:
    """Rule and method → what each person gets.

    The owner comes last, because an owner can send the others away.
    """
    table: dict[tuple[str, str], dict[str, str]] = {}
    for name in PEOPLE:
        client = shop.signed_in("" if name in ("stranger", "customer") else name)
        token = token_of(client)
        for rule in sorted(rules(shop.app), key=lambda rule: rule.endpoint in LAST):
            address = next(
                addresses(shop, rule, **({"token": NOBODYS_TOKEN} if name == "stranger" else {}))
            )
            for method in methods(rule):
                answer = (
                    client.get(address)
                    if method == "GET"
                    else client.post(address, data={"csrf_token": token})
                )
                key = (rule.rule.replace(str(shop.app.static_url_path), "/static/VERSION"), method)
                table.setdefault(key, {})[name] = outcome(answer, name)
    return table


def test_every_rule_opens_to_whom_the_table_says_and_to_nobody_else(whole: WholeShop) -> None:
    """Stranger, the customer with her own link, bench, counter, owner: no difference between the
    program and the table.
    """
    with TABLE.open(encoding="utf-8") as file:
        told = {
            (row["rule"], row["method"]): {name: row[name] for name in PEOPLE}
            for row in csv.DictReader(file)
        }
    seen = found(whole)

    assert seen.keys() == told.keys()
    assert {key: (told[key], row) for key, row in seen.items() if row != told[key]} == {}


def test_a_view_that_says_nobody_opens_to_nobody(whole: WholeShop) -> None:
    """Deny by default: every view says who may open it, and one that forgets to is closed even to
    the owner.
    """
    silent = [
        rule.endpoint
        for rule in rules(whole.app)
        if rule.endpoint != "static"
        and not hasattr(whole.app.view_functions[rule.endpoint], "allowed")
    ]
    assert silent == []

    whole.app.view_functions["counter.today"].allowed = ()  # type: ignore[attr-defined]
    try:
        assert whole.signed_in("owner").get("/").status_code == 403
    finally:
        whole.app.view_functions["counter.today"].allowed = ("counter", "bench", "owner")


@pytest.mark.parametrize(
    "name", ["role", "state", "id", "active", "is_owner", "staff_id", "ticket_id", "signed_off"]
)
def test_a_field_that_no_form_has_changes_nothing(whole: WholeShop, name: str) -> None:
    """More fields than the form shows do not reach the file (OWASP ASVS 5.0 15.3.3)."""
    client = whole.signed_in("counter")
    before = (
        whole.store.rows("SELECT id, role, active FROM staff"),
        whole.store.rows("SELECT id, state, number FROM tickets WHERE id <> 22"),
    )
    typed = {
        "csrf_token": token_of(client),
        "submission_id": "extra-fields-001",
        "how": "called",
        name: "owner",
    }
    assert client.post("/tickets/22/call", data=typed).status_code in (303, 422)
    assert (
        whole.store.rows("SELECT id, role, active FROM staff"),
        whole.store.rows("SELECT id, state, number FROM tickets WHERE id <> 22"),
    ) == before


def test_her_link_shows_her_ticket_and_no_other(whole: WholeShop) -> None:
    """Her token opens her own page; with it nothing else of the shop opens, whatever ids she
    types.
    """
    her = whole.app.test_client()
    assert her.get(f"/c/{whole.values['token']}").status_code == 200
    for path in (
        "/tickets/14",
        "/tickets/22",
        "/items/44",
        "/photos/1",
        "/shop/customers/14/everything.json",
        "/ready.json",
    ):
        assert her.get(path).status_code == 303
        assert her.get(path, headers={"Accept": "application/json"}).status_code == 401


def test_reading_changes_nothing(whole: WholeShop) -> None:
    """Every GET of the program, as owner: the content of the file is the same afterwards, and
    nothing but SQLite opened it (tests/system/test_living_file.py).
    """
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

    before, codes = content(), set()
    with opened_otherwise() as seen:
        for rule in rules(whole.app):
            if "GET" in rule.methods:
                for address in addresses(whole, rule):
                    codes.add(client.get(address).status_code)
    after = content()
    assert 200 in codes
    assert seen == []
    assert [table for table in tables if before[table] != after[table]] == []


@pytest.mark.parametrize("method", ["TRACE", "PUT", "DELETE", "PATCH", "CONNECT"])
def test_no_rule_knows_another_method(whole: WholeShop, method: str) -> None:
    """405 on every rule, with the methods that there are."""
    client = whole.signed_in("owner")
    for rule in rules(whole.app):
        answer = client.open(next(addresses(whole, rule)), method=method)
        assert answer.status_code == 405, rule.rule
        assert "Allow" in answer.headers
