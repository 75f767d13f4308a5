"""What a code and four digits lead to."""

from __future__ import annotations

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.common import link_token
from fitcounter.desk.customer import last_four_digits
from fitcounter.errors import BadInput
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

KEY = b"k" * 32


def test_a_code_leads_to_its_ticket_while_the_link_is_open(store: Store, act: Act) -> None:
    ticket = tickets.get(store, make_job(store, act).ticket_id)
    code = link_token.link_code(KEY, ticket)
    assert last_four_digits.ticket_of_code(store, code, act.at) is None
    with store.write_tx():
        store.change("tickets", ticket.id, **link_token.link_hashes(KEY, ticket))
    assert (
        last_four_digits.ticket_of_code(store, f"https://bench.example/b/{code}", act.at)
        == ticket.id
    )
    assert last_four_digits.ticket_of_code(store, "no code", act.at) is None


@pytest.mark.parametrize("typed", ["", "142", "01420", "٠١٤٢", "last"])
def test_what_is_no_four_digits_is_asked_for_again(store: Store, act: Act, typed: str) -> None:
    ticket_id = make_job(store, act).ticket_id
    with pytest.raises(BadInput, match="Type four digits"):
        last_four_digits.check(store, ticket_id, typed, by_code=True)


def test_four_digits_as_people_write_them_are_taken(store: Store, act: Act) -> None:
    ticket_id = make_job(store, act).ticket_id
    for typed in ("0142", " 01-42 ", "…0142"):
        assert last_four_digits.check(store, ticket_id, typed, by_code=False) == ticket_id
