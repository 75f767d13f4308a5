"""The lists that the shop's choices are picked from, by name."""

from __future__ import annotations

from dataclasses import replace

from fitcounter.desk import shop
from fitcounter.desk.common.translation import speaking
from fitcounter.desk.settings import setting_groups
from fitcounter.store.database import Store


def test_a_zone_goes_by_its_city_and_country_in_the_language_spoken() -> None:
    assert setting_groups.zones("en")["America/New_York"] == "New York, United States"
    assert setting_groups.zones("es")["America/New_York"] == "Nueva York, Estados Unidos"


def test_lists_stand_in_the_order_of_their_names() -> None:
    for listed in (
        setting_groups.zones("en"),
        setting_groups.countries("en"),
        setting_groups.currencies("en"),
        setting_groups.locales("en"),
    ):
        names = [name.casefold() for name in listed.values()]
        assert names == sorted(names)
        assert len(names) > 20


def test_what_the_shop_has_is_always_among_what_it_may_have(store: Store) -> None:
    """Also where it was chosen by hand before, and no list has it."""
    here = replace(shop.read(store), zone="Etc/GMT+5", locale="en_001", currency="XTS")

    options = setting_groups.options(here)
    assert "Etc/GMT+5" in options["zone"]
    assert "en_001" in options["locale"]
    assert "XTS" in options["currency"]
    assert here.country in options["country"]


def test_the_days_of_the_week_are_named_in_the_language_spoken() -> None:
    with speaking("es"):
        assert dict(setting_groups.week())["Mon"] == "Lunes"
    assert dict(setting_groups.week())["Mon"] == "Monday"
