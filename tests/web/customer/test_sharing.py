"""A link that somebody else may look at shows the days and nothing to change, until the customer
ends it.
"""

from __future__ import annotations

import re

import pytest
from support.cast import Counter
from support.ticket_rows import Job

from fitcounter.store.database import Store


@pytest.fixture
def shared(stranger: Counter, home: str) -> str:
    """The path of a link that the customer made."""
    stranger.get(f"/c/{home}")
    assert stranger.post(f"/c/{home}/share").status_code == 303
    found = re.search(r"(/s/[\w-]{22})", stranger.get(f"/c/{home}").text)
    assert found
    return found[1]


def test_who_looks_sees_the_days_and_can_change_nothing(
    stranger: Counter, shared: str, home: str
) -> None:
    page = stranger.get(shared).text
    assert "Marisol’s boots" in page
    assert "Boots on for 30 minutes (1 of 3)" in page
    for private in ("<form", "Okafor", "$", home, "(555) 010-0142"):
        assert private not in page
    assert "Las botas de Marisol" in stranger.get(f"{shared}?language=es").text


def test_boots_that_must_stay_off_stay_off_for_who_looks_too(
    stranger: Counter, shared: str, home: str
) -> None:
    stranger.get(f"/c/{home}")
    stranger.post(f"/c/{home}/not-right", felt="left-numb", said="numb")
    assert "Boots off until the shop has answered." in stranger.get(shared).text


def test_an_ended_link_says_whom_to_call_and_a_new_one_is_another(
    stranger: Counter, shared: str, home: str
) -> None:
    assert stranger.post(f"/c/{home}/share/end").status_code == 303
    dead = stranger.get(shared)
    assert dead.status_code == 404
    assert "tel:" in dead.text
    assert "Marisol" not in dead.text
    assert stranger.post(f"/c/{home}/share/end").status_code == 422
    stranger.post(f"/c/{home}/share")
    assert shared not in stranger.get(f"/c/{home}").text


def test_it_ends_with_the_customers_own_link(
    stranger: Counter, store: Store, job: Job, shared: str
) -> None:
    with store.write_tx():
        store.change("tickets", job.ticket_id, link_revoked_at="2026-03-01T00:00:00Z")
    assert stranger.get(shared).status_code == 404
