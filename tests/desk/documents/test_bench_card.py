"""The bench card says what the hands need: what the boot is made of, what the tape is to read, how
large a panel is.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.cast import Clock
from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.documents import bench_card as documents_bench
from fitcounter.desk.quote import agree
from fitcounter.desk.quote.agree import Agreed
from fitcounter.desk.quote.offer import make_offer
from fitcounter.errors import NotFound
from fitcounter.store import items
from fitcounter.store.database import Act, Store

DAY = date(2026, 3, 17)


@pytest.fixture
def act(clock: Clock) -> Act:
    return Act(clock.now, 1)


def agreed(store: Store, act: Act, ticket_id: int, data_dir: Path) -> tuple[str, ...]:
    """Agrees to what is offered; what was said to the customer."""
    here = shop.read(store)
    offer = make_offer(store, here, ticket_id, here.local(act.at).date())
    agree.agree(
        store, act, here, ticket_id, Agreed(offer.lines, "Marisol", offer.promise), data_dir
    )
    return offer.sentences


def test_a_card_says_what_the_boot_is_made_of_and_what_the_outside_tape_is_to_read(
    store: Store, act: Act, tmp_path: Path
) -> None:
    """Two walls' thickness lie between the girth that is wanted inside and the tape outside."""
    ticket_id, _ = measured_pair(store, act)
    agreed(store, act, ticket_id, tmp_path)
    left, right = documents_bench.bench_card(store, shop.read(store), ticket_id, "", DAY).boots
    assert left.made_of == "supple, smooth (calf, nappa) · lining: leather · zipper"
    assert left.target == "14¼ in inside at 12½ in"
    assert left.by_tape == "wanted 14¾ in"
    assert right.panel == ""


def test_boots_that_get_a_panel_have_a_card_with_its_size(
    store: Store, act: Act, tmp_path: Path
) -> None:
    """No tree and no round on it; and what the customer signs is about cutting, not stretching."""
    shop.choose(store, act, limits="careful")
    ticket_id, _ = measured_pair(store, act, material="vegetable-tanned")
    said = agreed(store, act, ticket_id, tmp_path)
    assert {one.work for one in items.of_ticket(store, ticket_id)} == {"other"}
    for boot in documents_bench.bench_card(store, shop.read(store), ticket_id, "", DAY).boots:
        assert boot.panel.startswith("a panel ⅝ in at its widest")
        assert [row.short_by for row in boot.heights if row.tightest] == ["⅝ in"]
        assert (boot.tree, boot.opening, boot.limit) == ("", "", "")
    assert any("The panel shows" in sentence for sentence in said)
    assert not any("stretch" in sentence.lower() for sentence in said)


def test_a_ticket_without_such_boots_has_no_card(store: Store, act: Act) -> None:
    ticket_id, _ = measured_pair(store, act)
    with store.write_tx():
        for item in items.of_ticket(store, ticket_id):
            store.change("items", item.id, work="other", jobs="heel tips")
    with pytest.raises(NotFound, match="made wider"):
        documents_bench.bench_card(store, shop.read(store), ticket_id, "", DAY)
