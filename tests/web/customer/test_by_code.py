"""The short code on paper opens the customer's page with the last four digits of their phone
number, and nothing without them.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job

from fitcounter.desk.common import link_token
from fitcounter.desk.staff.throttle import LAST_FOUR
from fitcounter.store import tickets
from fitcounter.store.database import Store, utc_text

DIGITS = "0142"


@pytest.fixture
def code(store: Store, job: Job, token: str, tmp_path: Path) -> str:
    """The code of a ticket whose link is open."""
    key, ticket = link_token.link_key(tmp_path), tickets.get(store, job.ticket_id)
    with store.write_tx():
        store.change("tickets", job.ticket_id, **link_token.link_hashes(key, ticket))
    return link_token.link_code(key, ticket)


def typed(customer: Counter, code: str, digits: str) -> tuple[int, str]:
    """Status, and where it leads or what the page says."""
    customer.get(f"/b/{code}")
    answer = customer.post(f"/b/{code}", digits=digits)
    return answer.status_code, answer.headers.get("Location", answer.text)


def test_the_square_on_paper_has_it_in_capitals(stranger: Counter, code: str) -> None:
    assert code in stranger.get(f"/B/{code}").text
    assert stranger.post(f"/B/{code}", digits=DIGITS).status_code == 303


def test_code_and_digits_lead_to_the_customers_own_page(
    stranger: Counter, code: str, token: str
) -> None:
    """As it stands on the paper, and as people type it."""
    for way in (code, f"{code[:4]}-{code[4:8]}-{code[8:]}", code.lower()):
        assert typed(stranger, way, DIGITS) == (303, f"/c/{token}")


def test_nothing_tells_a_wrong_code_from_wrong_digits(stranger: Counter, code: str) -> None:
    """The digits typed stay in the field."""
    other = ("0" if code[0] != "0" else "1") + code[1:]
    for address, digits in ((code, "9999"), (other, DIGITS), ("7K3M9QXWE", DIGITS)):
        status, page = typed(stranger, address, digits)
        assert status == 422
        assert "The code or the digits do not fit." in page
        assert f'value="{digits}"' in page
        assert "Marisol" not in page
    assert "Type four digits" in typed(stranger, code, "142")[1]


def test_whoever_guesses_digits_waits_and_the_wait_grows(
    stranger: Counter, code: str, clock: Clock
) -> None:
    """Five tries, then a minute, then two; the right digits are not taken while it runs."""
    for n in range(LAST_FOUR.free):
        assert typed(stranger, code, f"900{n}")[0] == 422
    assert typed(stranger, code, DIGITS)[0] == 429
    clock.on(minutes=1)
    assert typed(stranger, code, "9009")[0] == 422
    clock.on(minutes=1)
    status, page = typed(stranger, code, DIGITS)
    assert status == 429
    assert f'value="{DIGITS}"' in page
    clock.on(minutes=1)
    assert typed(stranger, code, DIGITS)[0] == 303


@pytest.mark.parametrize(
    "change",
    [
        {"link_revoked_at": "2026-03-01T00:00:00Z"},
        {"link_until": "2026-03-01T00:00:00Z"},
        {"link_code_hash": None},
    ],
    ids=["taken back", "ended", "erased"],
)
def test_a_code_ends_with_its_link(
    stranger: Counter, store: Store, job: Job, code: str, change: dict[str, str | None]
) -> None:
    with store.write_tx():
        store.change("tickets", job.ticket_id, **change)
    assert typed(stranger, code, DIGITS)[0] == 422


def test_a_customer_without_a_phone_number_has_no_address_to_type(
    store: Store, job: Job, code: str, tmp_path: Path, stranger: Counter
) -> None:
    """And nothing opens it, not even nothing."""
    ticket = tickets.get(store, job.ticket_id)
    address = link_token.typed_address(store, ticket, "https://bench.example/", tmp_path)
    assert address == f"bench.example/b/{code[:4]}-{code[4:8]}-{code[8:]}"
    with store.write_tx():
        store.change("customers", ticket.customer_id, phone_last4="")
    assert link_token.typed_address(store, ticket, "https://bench.example", tmp_path) == ""
    assert typed(stranger, code, "")[0] == 422


def test_a_new_link_has_a_new_code(owner: Counter, store: Store, job: Job, code: str) -> None:
    owner.get(f"/tickets/{job.ticket_id}/link")
    assert owner.post(f"/tickets/{job.ticket_id}/link/new").status_code == 303
    fresh = store.value("SELECT link_code_hash FROM tickets WHERE id = ?", job.ticket_id)
    assert fresh != link_token.link_hash(code)
    until = store.value("SELECT link_until FROM tickets WHERE id = ?", job.ticket_id)
    assert until > utc_text(Clock().now + timedelta(days=1))
