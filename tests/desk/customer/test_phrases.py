"""What the file holds in our English, said in the customer's language."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest

from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer import phrases
from fitcounter.desk.shop import Shop
from fitcounter.store import items
from fitcounter.store.database import Store


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Stretching the pair, up to 3 rounds", "3"),
        ("Discount, 10%", "10"),
        ("A panel for the left boot", ""),
    ],
)
def test_a_price_line_of_ours_is_said_in_spanish_with_its_number(line: str, said: str):
    spanish = phrases.price_line(line, speech("es"))
    assert spanish != line
    assert said in spanish
    assert phrases.price_line(line, speech("en")).replace("\u00a0", " ") == line


def test_what_somebody_typed_stays_as_it_was_typed():
    assert phrases.price_line("Gluing the left flower patch", speech("es")) == (
        "Gluing the left flower patch"
    )


def test_a_pair_is_one_line_of_two_and_what_is_cancelled_of_it_is_said(store: Store, job):
    held = items.of_ticket(store, job.ticket_id)
    pair, bag = phrases.item_lines(held, speech("en"))
    assert (pair.count, bag.count, bag.note) == (2, 1, "new zip")
    left = [replace(one, cancelled=1) if one.id == job.left else one for one in held]
    assert "left boot: cancelled" in phrases.item_lines(left, speech("en"))[0].note


def test_days_with_the_same_hours_stand_in_one_piece(choices: Shop):
    shop = replace(choices, opens_at=time(9), closes_at=time(18), open_days=(1, 2, 3, 5))
    hours = phrases.head(shop, speech("en_US")).hours.replace("\u202f", " ")
    assert hours.startswith("Tuesday")
    assert hours.count("9") == 1
