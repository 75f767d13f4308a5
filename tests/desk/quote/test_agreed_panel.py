"""Boots that get a panel, or what was chosen in its place: its line, its consent, its work."""

from __future__ import annotations

from math import ceil
from pathlib import Path

from support.measured_pair import measured_pair
from support.offered_pair import TODAY, offered, yes

from fitcounter.desk import shop
from fitcounter.desk.documents import bench_card as documents_bench
from fitcounter.desk.quote import agree, instead_of_stretching, price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_a_panel_makes_other_work_of_the_boots(
    store: Store, act: Act, here: shop.Shop, tmp_path: Path
):
    shop.choose(store, act, limits="careful")
    careful = shop.read(store)
    ticket, _ = measured_pair(store, act, material="vegetable-tanned")
    offer = offered(store, careful, ticket)
    assert [(line.what, line.amount_minor) for line in offer.lines] == [
        ("A panel for the pair", 14000)
    ]
    assert offer.further_minor == 0
    agree.agree(store, act, careful, ticket, yes(offer), tmp_path)
    assert {(one.work, one.jobs, one.state) for one in items.of_ticket(store, ticket)} == {
        ("other", "panel", "queued")
    }


def test_what_was_chosen_in_place_of_a_panel_is_priced_agreed_and_done(
    store: Store, act: Act, here: shop.Shop, tmp_path: Path
):
    """An elastic gusset has its own line, its own consent, its own work on the boots."""
    shop.choose(store, act, limits="careful")
    careful = shop.read(store)
    ticket, fit_id = measured_pair(store, act, material="vegetable-tanned")
    entry = EntryInput(what="Elastic gusset", price_minor=4500, days=3)
    price_list.save(store, act, "elastic-gusset", entry)
    instead_of_stretching.choose(store, Act(act.at, 1), fit_id, "elastic-gusset", tmp_path)
    offer = offered(store, careful, ticket)
    assert [(line.what, line.amount_minor) for line in offer.lines] == [
        ("Elastic gusset, both boots", 9000)
    ]
    assert offer.promise is not None
    assert any("elastic shows" in one for one in offer.sentences)
    assert not any("panel" in one for one in offer.sentences)
    agree.agree(store, Act(act.at, 1), careful, ticket, yes(offer), tmp_path)
    boots = items.of_ticket(store, ticket)
    assert {(one.work, one.jobs) for one in boots} == {("other", "Elastic gusset")}
    card = documents_bench.bench_card(store, careful, ticket, "", TODAY)
    assert card.boots[0].panel.startswith("Elastic gusset: ")


def test_a_panel_is_priced_by_its_width_where_the_list_says_so(
    store: Store, act: Act, here: shop.Shop
):
    shop.choose(store, act, limits="careful")
    careful = shop.read(store)
    ticket, _ = measured_pair(store, act, material="vegetable-tanned")
    entry = EntryInput(what="Leather panel", price_minor=2000, size_minor=1600)
    price_list.save(store, act, "panel", entry)
    offer = offered(store, careful, ticket)
    (given,) = offer.answers
    widths = [side.verdict.panel.widest_mm for _, side in given.measured if side.verdict.panel]
    sixteenths = sum(ceil(round(mm / 1.5875, 3)) for mm in widths)
    assert [line.amount_minor for line in offer.lines] == [2 * 2000 + 100 * sixteenths]
