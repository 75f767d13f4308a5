"""Which address of the shop opens at a customer's home. What then goes out: `web/pages`."""

from __future__ import annotations

import pytest

from fitcounter.desk.messages.link_opens_at_home import is_reachable


@pytest.mark.parametrize(
    ("address", "opens"),
    [
        ("https://boots.example.org", True),
        ("https://boots.example.org:8443", True),
        ("https://8.8.8.8", True),
        ("http://boots.example.org", False),
        ("https://localhost:8000", False),
        ("https://boots", False),
        ("https://boots.local", False),
        ("https://boots.local.", False),
        ("https://shop.home.arpa", False),
        ("https://192.168.1.20:8000", False),
        ("https://127.0.0.1", False),
        ("https://[fe80::1]", False),
        ("http://localhost:8000", False),
    ],
)
def test_an_address_opens_at_home_where_the_internet_knows_it_and_nobody_reads_it_on_the_way(
    address: str, opens: bool
):
    assert is_reachable(address) is opens
