"""What may happen with these boots, in sentences chosen from what they are."""

from __future__ import annotations

import pytest
from support.measured_pair import measured_pair
from support.offered_pair import with_limits

from fitcounter.desk import shop
from fitcounter.desk.intake.job_records import Seen
from fitcounter.desk.quote import consent
from fitcounter.store import findings, items
from fitcounter.store.database import Act, Store


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    return with_limits(store, act)


def test_consent_is_chosen_from_the_boots_and_what_was_seen(
    store: Store, act: Act, here: shop.Shop
):
    ticket, _ = measured_pair(
        store,
        act,
        material="nubuck",
        closure="pull-on",
        lining="fleece",
        seen=(Seen("right", "dye-rub"),),
    )
    boots = items.of_ticket(store, ticket)
    said = consent.sentences(
        boots, [one for boot in boots for one in findings.of_item(store, boot.id)]
    )
    for words in (
        "color already rubs off",
        "nap may darken",
        "fleece lining",
        "wider, not longer",
        "have your boots back",
    ):
        assert any(words in sentence for sentence in said), words
    assert not any(
        "zip" in sentence.lower() for sentence in said if "has had enough" not in sentence
    )
    assert len(said) == len(set(said))
    assert not any("not responsible" in sentence for sentence in said)
