"""The shop's choices, shown as they would be typed, read and kept."""

from __future__ import annotations

import pytest

from fitcounter.desk import shop
from fitcounter.desk.settings import setting_groups, setting_table, settings_page
from fitcounter.errors import BadFields, BadInput, Conflict
from fitcounter.store.database import Act, Store


def test_every_choice_stands_in_one_group_and_every_option_can_be_read():
    grouped = [key for _, keys in setting_groups.GROUPS for key in keys]
    assert sorted(grouped) == sorted(setting_table.CHOICES)
    for key, options in setting_groups.options(shop.Shop()).items():
        assert settings_page.usual()[key] in options
        for typed in options:
            setting_table.CHOICES[key].read(typed, shop.Shop(), key)


def test_every_default_can_be_typed_as_it_is_shown():
    stands = shop.Shop()
    for key, text in settings_page.usual().items():
        value = getattr(stands, key)
        read = setting_table.CHOICES[key].read(text, stands, key)
        assert tuple(read) == pytest.approx(value) if isinstance(read, list) else read == value, key


def test_only_what_differs_from_what_stands_is_written(store: Store, act: Act):
    stands = shop.read(store)
    same = settings_page.shown(stands)
    assert settings_page.keep(store, act, stands, same) is None
    assert settings_page.keep(store, act, stands, {"colour": "red", "guarantee_days": "9"}) is None
    kept = settings_page.keep(store, act, stands, {**same, "address": " 12 New Street "})
    assert kept is not None
    assert kept.detail == {"settings": ["address"]}
    assert shop.read(store).address == "12 New Street"


def test_one_field_that_cannot_be_taken_keeps_the_others_out_too(store: Store, act: Act):
    stands = shop.read(store)
    with pytest.raises(BadInput):
        settings_page.keep(store, act, stands, {"address": "12 New Street", "hold_h": "soon"})
    assert shop.read(store) == stands


def test_hours_are_held_against_those_that_stand(store: Store, act: Act):
    """Shut before it opens, whichever of the two hours is typed; both together may move."""
    stands = shop.read(store)
    for typed in ({"opens_at": "18:00"}, {"closes_at": "9:00"}):
        with pytest.raises(BadInput):
            settings_page.keep(store, act, stands, typed)
    settings_page.keep(store, act, stands, {"opens_at": "18:00", "closes_at": "22:30"})
    assert (shop.read(store).opens_at, shop.read(store).closes_at) == ("18:00", "22:30")


def test_who_looked_at_an_older_set_is_told_so_and_changes_nothing(store: Store, act: Act):
    looked_at = settings_page.stamp(store)
    settings_page.keep(store, act, shop.read(store), {"hold_h": "72"}, looked_at)
    with pytest.raises(Conflict):
        settings_page.keep(store, act, shop.Shop(), {"hold_h": "96"}, looked_at)
    assert shop.read(store).hold_h == 72


def test_every_wrong_choice_is_said_at_once_and_the_hours_are_compared_beside_them(
    store: Store, act: Act
):
    typed = {"hold_h": "a week", "opens_at": "19:00", "phone": "call me"}
    with pytest.raises(BadFields) as refused:
        settings_page.keep(store, act, shop.Shop(), typed)
    assert set(refused.value.sentences) == {"hold_h", "closes_at", "phone"}


def test_hours_are_not_compared_where_one_of_them_cannot_be_read(store: Store, act: Act):
    with pytest.raises(BadFields) as refused:
        settings_page.keep(store, act, shop.Shop(), {"opens_at": "x", "closes_at": "08:00"})
    assert set(refused.value.sentences) == {"opens_at"}
