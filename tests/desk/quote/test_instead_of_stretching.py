"""What can be done where stretching is not the answer: only what fits these boots."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.quote import instead_of_stretching, price_list
from fitcounter.desk.quote.can_it_be_done_page import verdict_page
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.desk.quote.verdict import answer
from fitcounter.errors import BadInput, OutOfOrder
from fitcounter.store import fits
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)
WHOLE = ("strap", "elastic-gusset", "zip-gusset", "panel", "another")


def keys(store: Store, fit_id: int) -> tuple[str, ...]:
    here = shop.read(store)
    given = answer(store, here, fit_id, TODAY)
    return tuple(one.key for one in instead_of_stretching.choices(store, here, given, TODAY))


@pytest.mark.parametrize(
    ("closure", "fitting"),
    [
        ("zip", WHOLE),
        ("pull-on", ("elastic-gusset", "panel", "another")),
        ("straps", ("strap", "elastic-gusset", "panel", "another")),
    ],
)
def test_only_what_fits_these_boots_is_offered(
    store: Store, act: Act, closure: str, fitting: tuple[str, ...]
) -> None:
    _, fit_id = measured_pair(store, act, material="coated", closure=closure)
    assert keys(store, fit_id) == fitting
    page = verdict_page(store, shop.read(store), fit_id, TODAY)
    assert not any("strap hole" in one for one in page.would_change)


def test_boots_that_can_be_stretched_are_offered_nothing_else(store: Store, act: Act) -> None:
    _, fit_id = measured_pair(store, act)
    assert keys(store, fit_id) == ()


def test_a_choice_has_its_price_its_day_and_the_width_at_each_height(
    store: Store, act: Act
) -> None:
    _, fit_id = measured_pair(store, act, material="coated")
    price_list.save(store, act, "zip-gusset", EntryInput(what="Gusset", price_minor=5000, days=3))
    page = verdict_page(store, shop.read(store), fit_id, TODAY)
    found = {one.key: one for one in page.choices}
    assert found["zip-gusset"].price_minor == 10000
    assert found["zip-gusset"].day == date(2026, 3, 20)
    assert found["elastic-gusset"].price_minor is None
    assert found["another"].day is None
    widths = [(round(height), [round(mm or 0, 1) for mm in both]) for height, both in page.widths]
    assert widths == [(368, [12.7, 12.7]), (318, [15.9, 15.9]), (267, [9.5, 9.5])]


def test_what_does_not_fit_or_is_agreed_already_is_not_chosen(
    store: Store, act: Act, tmp_path: Path
) -> None:
    _, fit_id = measured_pair(store, act, material="coated", closure="pull-on")
    for key in ("strap", "zip-gusset", "", "stretch"):
        with pytest.raises(BadInput, match="Pick one of these"):
            instead_of_stretching.choose(store, act, fit_id, key, tmp_path)
    with store.write_tx():
        for boot in fits.boots(store, fit_id):
            store.change("items", boot.id, state="queued")
    with pytest.raises(OutOfOrder, match="agreed already"):
        instead_of_stretching.choose(store, act, fit_id, "panel", tmp_path)


def test_another_boot_gives_these_back_with_that_as_the_reason(
    store: Store, act: Act, tmp_path: Path
) -> None:
    _, fit_id = measured_pair(store, act, material="coated")
    instead_of_stretching.choose(store, act, fit_id, "another", tmp_path)
    assert [(one.state, one.note) for one in fits.boots(store, fit_id)] == [
        ("declined", "Another boot")
    ] * 2
