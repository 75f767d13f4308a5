"""The customer's calendar as one sheet, from which page, paper and phone are made."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from fitcounter.desk.common import link_token
from fitcounter.desk.customer import calendar
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store


def link(store: Store, ticket_id: int, folder: Path) -> str:
    """A link that opens the ticket's page for long."""
    made = link_token.link_token(link_token.link_key(folder), tickets.get(store, ticket_id))
    with store.write_tx():
        row = {"link_hash": link_token.link_hash(made), "link_until": "2027-12-31T00:00:00Z"}
        store.change("tickets", ticket_id, **row)
    return made


def test_its_wears_are_those_of_the_plan_and_a_day_later_its_number_is_higher(
    store: Store, choices: Shop, home, act: Act, tmp_path: Path
):
    token = link(store, home.ticket_id, tmp_path)
    sheet = calendar.sheet(store, choices, token, act.at)
    assert (sheet.first_name, sheet.hold) == ("Marisol", "")
    assert len(sheet.wears) == 3
    later = calendar.sheet(store, choices, token, act.at + timedelta(days=1))
    assert later.sequence > sheet.sequence
    assert later.uid_seed == sheet.uid_seed
    assert token not in sheet.uid_seed


def test_before_anything_went_home_there_is_no_calendar(
    store: Store, choices: Shop, job, act: Act, tmp_path: Path
):
    token = link(store, job.ticket_id, tmp_path)
    with pytest.raises(NotFound):
        calendar.sheet(store, choices, token, act.at)
