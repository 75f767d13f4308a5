"""The customer's page: what is behind the link, and nothing of the person but a first name."""

from __future__ import annotations

from dataclasses import asdict
from datetime import timedelta
from pathlib import Path

import pytest

from fitcounter.desk.common import link_token
from fitcounter.desk.customer import page
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store, utc_text


@pytest.fixture
def token(store: Store, job, act: Act, tmp_path: Path) -> str:
    """A link that opens the job's page for one day."""
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, job.ticket_id))
    until = utc_text(act.at + timedelta(days=1))
    with store.write_tx():
        store.change(
            "tickets", job.ticket_id, link_hash=link_token.link_hash(made), link_until=until
        )
    return made


def test_each_thing_has_its_line_and_of_the_person_there_is_a_first_name(
    store: Store, choices: Shop, token: str, act: Act
):
    seen = page.page_of_link(store, choices, token, act.at)
    assert (seen.first_name, len(seen.things), seen.all_ready) == ("Marisol", 3, False)
    assert seen.calendar is None
    told = str({key: value for key, value in asdict(seen).items() if key != "ticket"})
    assert "Okafor" not in told
    assert "0142" not in told


def test_the_language_chosen_on_the_page_goes_before_the_shops(
    store: Store, choices: Shop, token: str, act: Act
):
    assert page.page_of_link(store, choices, token, act.at, "es").language == "es"
    assert page.page_of_link(store, choices, token, act.at).language == "en"


def test_a_link_that_is_over_says_so_and_what_was_never_one_opens_nothing(
    store: Store, choices: Shop, token: str, act: Act
):
    with pytest.raises(NotFound, match="has ended"):
        page.page_of_link(store, choices, token, act.at + timedelta(days=2))
    with pytest.raises(NotFound, match="does not work"):
        page.page_of_link(store, choices, "A" * 22, act.at)
