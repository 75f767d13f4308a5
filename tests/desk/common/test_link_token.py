"""Links and short codes are made from the shop's key again and again, and differ with everything
they are made from.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.common import link_token
from fitcounter.desk.common.link_token import is_reachable
from fitcounter.fit.tagcode import read_code
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store


def test_a_code_is_a_tag_codes_letters_with_its_check_and_always_the_same(
    store: Store, act: Act, tmp_path: Path
) -> None:
    key, ticket = link_token.link_key(tmp_path), tickets.get(store, make_job(store, act).ticket_id)
    codes = [link_token.link_code(key, ticket, series) for series in range(1, 200)]
    assert len(set(codes)) == len(codes)
    assert all(read_code(code) == code for code in codes)
    assert codes[0] == link_token.link_code(key, ticket)
    assert link_token.link_code(b"another key", ticket) != codes[0]


def test_no_address_to_type_before_there_is_a_link(store: Store, act: Act, tmp_path: Path) -> None:
    job = make_job(store, act)
    ticket = tickets.get(store, job.ticket_id)
    assert link_token.typed_address(store, ticket, "https://bench.example", tmp_path) == ""
    with store.write_tx():
        store.change("tickets", job.ticket_id, **link_token.link_hashes(b"k" * 32, ticket))
    assert link_token.typed_address(store, ticket, "https://bench.example", tmp_path)


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
