"""Only our own proxy's word counts for who the visitor is."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask import Flask, request

from fitcounter.settings import Settings
from fitcounter.web import create_app
from fitcounter.web.guards.behind_proxy import is_proxy

HEADERS = {"X-Forwarded-For": "203.0.113.9, 198.51.100.4", "X-Forwarded-Proto": "https"}


@pytest.mark.parametrize(
    ("proxy", "comes_from", "counts_as", "scheme"),
    [
        ("", "127.0.0.1", "198.51.100.4", "https"),
        ("", "::1", "198.51.100.4", "https"),
        ("", "192.168.1.66", "192.168.1.66", "http"),
        ("192.168.1.2", "192.168.1.2", "198.51.100.4", "https"),
        ("192.168.1.2", "::ffff:192.168.1.2", "198.51.100.4", "https"),
        ("192.168.1.2", "192.168.1.66", "192.168.1.66", "http"),
        ("192.168.1.2", "127.0.0.1", "127.0.0.1", "http"),
    ],
)
def test_whoever_reaches_past_the_proxy_is_who_they_are(
    tmp_path: Path, proxy: str, comes_from: str, counts_as: str, scheme: str
) -> None:
    """Or every try at a passphrase could come from another address."""
    address = {"https": True, "base_url": "https://localhost"}
    app = create_app(Settings(data_dir=tmp_path, testing=True, proxies=1, proxy=proxy, **address))
    with app.test_client() as client:
        client.get("/sign-in", headers=HEADERS, environ_base={"REMOTE_ADDR": comes_from})
        assert (request.remote_addr, request.scheme) == (counts_as, scheme)


@pytest.mark.parametrize("address", ["", "nobody", "127.0.0.1; 1"])
def test_what_is_no_address_is_no_proxy(address: str) -> None:
    assert not is_proxy(address, "")


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
        answer = client.get("/sign-in", headers=headers)
        assert (request.remote_addr, request.scheme, request.host) == (
            "198.51.100.4",
            "https",
            "localhost",
        )
    assert answer.status_code == 200
    assert "Strict-Transport-Security" in answer.headers
