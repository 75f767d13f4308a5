"""What is put before the customer: price lines and days."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.offered_pair import offered, pair_and_bag, with_limits, yes

from fitcounter.desk import shop
from fitcounter.desk.intake.job_records import Thing
from fitcounter.desk.quote import agree
from fitcounter.errors import BadInput
from fitcounter.store import items
from fitcounter.store.database import Act, Store


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    return with_limits(store, act)


@pytest.fixture
def ticket_id(store: Store, act: Act, here: shop.Shop) -> int:
    return pair_and_bag(store, act)


def test_the_offer_has_a_line_for_the_pair_and_one_for_each_other_thing(
    store: Store, here: shop.Shop, ticket_id: int
):
    offer = offered(store, here, ticket_id)
    assert [(line.what, line.amount_minor) for line in offer.lines] == [
        ("Stretching the pair, up to 2 rounds", 9000),
        ("black bag: new handle", 0),
    ]
    assert offer.deposit_minor(30) == 2700
    assert offer.noted == ("Left boot: zipper worn or stiff, at the top",)
    assert "The zipper is already worn. It may not stand the pull." in offer.sentences
    assert offer.ceiling_minor == offer.total_minor + offer.further_minor


def test_a_thing_with_a_promised_day_moves_the_promise(
    store: Store, act: Act, here: shop.Shop, ticket_id: int
):
    before = offered(store, here, ticket_id).promise
    with store.write_tx():
        store.change("items", items.of_ticket(store, ticket_id)[2].id, promised_day="2026-09-01")
    assert before is not None
    assert offered(store, here, ticket_id).promise == date(2026, 9, 1)
    assert Thing("bag", "x", "y").promised_day is None


def test_no_day_is_promised_on_which_the_shop_is_closed(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    """A Sunday; the next open day is said."""
    agreed = yes(offered(store, here, ticket_id), promise=date(2026, 4, 12))
    with pytest.raises(BadInput, match=r"closed on Sun, Apr 12\. The next open day is Tue, Apr 14"):
        agree.agree(store, act, here, ticket_id, agreed, tmp_path)
