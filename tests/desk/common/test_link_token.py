"""Links and short codes are made from the shop's key again and again, and differ with everything
they are made from.
"""

from __future__ import annotations

from pathlib import Path

from support.ticket_rows import make_job

from fitcounter.desk.common import link_token
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
