"""What is let in is priced for each boot, by its width where the list says so."""

from __future__ import annotations

from datetime import date

from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.panel_price import panel_minor
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.desk.quote.verdict import answer
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)


def test_a_panel_costs_the_shops_price_until_the_list_has_one(store: Store, act: Act) -> None:
    _, fit_id = measured_pair(store, act, material="coated")
    here = shop.read(store)
    given = answer(store, here, fit_id, TODAY)
    assert panel_minor(store, here, given) == here.panel_minor
    assert panel_minor(store, here, given, "elastic-gusset") is None


def test_by_size_each_boot_pays_for_its_widest_place(store: Store, act: Act) -> None:
    """Both are 5/8 in short, ten sixteenths, at 16 dollars an inch and 20 each."""
    _, fit_id = measured_pair(store, act, material="coated")
    here = shop.read(store)
    entry = EntryInput(what="Elastic gusset", price_minor=2000, size_minor=1600)
    price_list.save(store, act, "elastic-gusset", entry)
    given = answer(store, here, fit_id, TODAY)
    assert panel_minor(store, here, given, "elastic-gusset") == 2 * (2000 + 1000)
