"""The owner's own figures of a leather beside the handbook's, kept and told."""

from __future__ import annotations

import pytest

from fitcounter.desk.assessment import limits
from fitcounter.desk.settings import leather_limits
from fitcounter.desk.settings.leather_words import FACTOR_WORDS, LEATHER_WORDS
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.fit.handbook.leather import LEATHERS
from fitcounter.store.database import Act, Store

GOAT = "goat"


def test_every_figure_that_can_be_set_has_a_name_and_says_what_it_changes():
    assert list(LEATHER_WORDS) == list(limits.SPANS)
    assert list(FACTOR_WORDS) == list(limits.FACTOR_SPANS)


def test_every_leather_is_in_the_list_and_last_what_narrows_them_all(store: Store, act: Act):
    before = leather_limits.lines(store)
    assert [line.code for line in before] == [*LEATHERS, limits.EVERY]
    assert not any(line.own for line in before)
    assert {line.code for line in before if line.refused} == {
        code for code, row in LEATHERS.items() if row.refused
    }
    leather_limits.keep(store, act, Shop(), GOAT, {"ceiling": "8"})
    assert [line.code for line in leather_limits.lines(store) if line.own] == [GOAT]
    assert next(line for line in leather_limits.lines(store) if line.own).ever == "8"


def test_what_stands_can_be_typed_as_it_is_shown_and_changes_nothing(store: Store, act: Act):
    for code in (*(code for code, row in LEATHERS.items() if not row.refused), limits.EVERY):
        sheet = leather_limits.sheet(store, code)
        assert sheet.stands == {field.key: field.usual for field in sheet.fields}
        assert leather_limits.keep(store, act, Shop(), code, sheet.stands) is None


def test_an_empty_figure_is_the_handbooks_again_and_its_text_no_longer_the_shops(
    store: Store, act: Act
):
    leather_limits.keep(store, act, Shop(), GOAT, {"ceiling": "8", "round": "4.5"})
    assert sorted(leather_limits.own_texts(store).values()) == ["4.5 %", "8 %"]
    kept = leather_limits.keep(store, act, Shop(), GOAT, {"ceiling": "8", "round": ""})
    assert kept is not None
    assert kept.detail == {"leather": GOAT, "figures": {"round": LEATHERS[GOAT].round}}
    assert list(leather_limits.own_texts(store).values()) == ["8 %"]


@pytest.mark.parametrize(
    "typed",
    [
        {"round": "9", "ceiling": "8"},
        {"routine": "5", "round": "4"},
        {"thickness_from_mm": "2", "thickness_to_mm": "1"},
        {"ceiling": "8.125"},
    ],
)
def test_figures_out_of_order_or_out_of_range_are_not_kept(
    store: Store, act: Act, typed: dict[str, str]
):
    with pytest.raises(BadInput):
        leather_limits.keep(store, act, Shop(), GOAT, {"strain_10mpa": "22", **typed})
    assert leather_limits.own_texts(store) == {}


def test_who_looked_at_older_figures_is_told_so_and_changes_nothing(store: Store, act: Act):
    leather_limits.keep(store, act, Shop(), GOAT, {"ceiling": "8"}, 0)
    with pytest.raises(Conflict):
        leather_limits.keep(store, act, Shop(), GOAT, {"ceiling": "7"}, 0)
    assert leather_limits.sheet(store, GOAT).stands["ceiling"] == "8"


@pytest.mark.parametrize("code", ["coated", "granite"])
def test_what_is_never_stretched_or_not_known_has_no_sheet(store: Store, act: Act, code: str):
    with pytest.raises(NotFound):
        leather_limits.sheet(store, code)
    with pytest.raises(NotFound):
        leather_limits.keep(store, act, Shop(), code, {"ceiling": "5"})
