"""The list of work: found by first letters, priced, by size too, and the owner's own."""

from __future__ import annotations

import pytest

from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.store.database import Act, Store


def names(store: Store, typed: str) -> list[str]:
    return [one.name for one in price_list.find(store, typed)]


def test_two_letters_find_work_by_any_of_its_words(store: Store):
    assert names(store, "dy") == ["Dyed"]
    assert names(store, "heel ti") == ["Heel tips"]
    assert names(store, "HEEL TIPS") == ["Heel tips"]
    assert "New zipper" in names(store, "zi")
    assert names(store, "d") == []
    assert names(store, "xy") == []


def test_a_price_of_the_owner_stands_for_a_usual_entry_which_keeps_its_name(store: Store, act: Act):
    typed = EntryInput(what="Heel tips", price_minor=1800, days=2, taxable=False)
    price_list.save(store, act, "heel-tips", typed)
    entry = price_list.get(store, "heel-tips")
    assert (entry.name, entry.price_minor, entry.days, entry.taxable) == ("Heel tips", 1800, 2, 0)
    assert entry.row is not None
    assert entry.row.what == "", "so that it can be said in any language"
    price_list.save(store, act, "heel-tips", EntryInput(what="Rubber tips", price_minor=1500))
    assert names(store, "rubber") == ["Rubber tips"]
    assert names(store, "heel tips") == []


def test_the_owners_own_entry_is_found_and_taken_off_the_list(store: Store, act: Act):
    price_list.save(store, act, "", EntryInput(what="Spur rest moved", price_minor=2500))
    (entry,) = price_list.find(store, "spur")
    gone = EntryInput(what="Spur rest moved", price_minor=2500, offered=False, version=1)
    price_list.save(store, act, entry.key, gone)
    assert names(store, "spur") == []
    with pytest.raises(Conflict):
        price_list.save(store, act, entry.key, gone)
    with pytest.raises(NotFound):
        price_list.get(store, "nonsense")


def test_a_gusset_is_priced_by_its_size(store: Store, act: Act):
    typed = EntryInput(what="Elastic gusset", price_minor=3000, size_minor=2000, timing="after")
    price_list.save(store, act, "elastic-gusset", typed)
    entry = price_list.get(store, "elastic-gusset")
    assert price_list.amount_of(entry, Shop(), "1 1/2") == 6000
    assert price_list.amount_of(entry, Shop(unit="cm"), "2,5 cm") == 8000
    with pytest.raises(BadInput, match="Type the size"):
        price_list.amount_of(entry, Shop(), "")
    assert price_list.amount_of(price_list.get(store, "dyed"), Shop(), "") is None


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (EntryInput(what="", price_minor=1), "what"),
        (EntryInput(what="x" * 61, price_minor=1), "what"),
        (EntryInput(what="new ZIPPER", price_minor=1), "what"),
        (EntryInput(what="Spurs", price_minor=1, days=31), "days"),
        (EntryInput(what="Spurs", price_minor=1, timing="soon"), "timing"),
    ],
)
def test_an_entry_that_cannot_be_is_refused_at_its_field(
    store: Store, act: Act, typed: EntryInput, field: str
):
    with pytest.raises(BadInput) as refused:
        price_list.save(store, act, "", typed)
    assert refused.value.field == field


def test_jobs_in_words_come_to_what_the_list_says_or_to_nothing(store: Store, act: Act):
    price_list.save(store, act, "heel-tips", EntryInput(what="Heel tips", price_minor=1800))
    price_list.save(store, act, "zip", EntryInput(what="New zipper", price_minor=6500))
    sized = EntryInput(what="Leather panel", price_minor=2000, size_minor=1600)
    price_list.save(store, act, "panel", sized)
    assert price_list.listed_minor(store, "Heel tips") == 1800
    assert price_list.listed_minor(store, "heel tips, New zipper") == 8300
    for unknown in ("heel tips, new handle", "heel", "Leather panel", "Half soles", ""):
        assert price_list.listed_minor(store, unknown) == 0
