"""The form in which the counter takes a pair back, and what the customer reads of it."""

from __future__ import annotations

from datetime import date

import pytest
from support.bench_cast import Pair
from support.cast import Counter

from fitcounter.desk.common import link_token
from fitcounter.desk.common.translation import speech
from fitcounter.store import items, tickets
from fitcounter.store.database import Store


@pytest.fixture
def clear(store: Store, boots: Pair) -> Pair:
    """A pair that is at home, its guarantee running."""
    with store.write_tx():
        for one in (boots.left, boots.right):
            store.change("items", one, state="out")
        gone = {"state": "out", "handed_over_at": "2026-03-16T14:00:00Z"}
        store.change("tickets", boots.ticket_id, **gone, guarantee_end="2027-03-16")
    return boots


def test_the_counter_takes_a_pair_back_in_one_form_from_the_ticket(
    counter: Counter, stranger: Counter, store: Store, clear: Pair, tmp_path
):
    path = f"/tickets/{clear.ticket_id}/back"
    assert path in counter.get(f"/tickets/{clear.ticket_id}").text
    page = " ".join(counter.get(path).text.split())
    assert "Keep wearing the other boot?" in page
    assert "One more round costs $30.00." in page
    typed = {f"boot-{clear.left}": "14 1/4", f"boot-{clear.right}": "141/4", "pays": "guarantee"}
    refused = counter.post(path, **typed)
    assert refused.status_code == 422
    assert 'value="141/4"' in refused.text
    typed[f"boot-{clear.right}"] = "14 1/4"
    counter.get(path)
    assert counter.post(path, **typed).status_code == 303
    promised = date.fromisoformat(items.get(store, clear.left).promised_day or "")
    shown = " ".join(counter.get(f"/tickets/{clear.ticket_id}").text.split())
    day = speech("en_US").day(promised)
    assert f"on track for {day}" in shown
    assert "One more round after pickup, free by the guarantee" in shown
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, clear.ticket_id))
    with store.write_tx():
        hashed, until = link_token.link_hash(made), "2027-12-31T00:00:00Z"
        store.change("tickets", clear.ticket_id, link_hash=hashed, link_until=until)
    page = " ".join(stranger.get(f"/c/{made}").text.split())
    assert f"ready on {day}" in page
    assert "before, we said" not in page
