"""The shop's settings, the handbook and the health page."""

from __future__ import annotations

import re

import pytest
from markupsafe import escape
from support.cast import Counter

from fitcounter.desk import shop
from fitcounter.desk.settings import setting_table
from fitcounter.store.database import Store


def test_each_setting_stands_there_with_what_it_changes_and_its_reason(owner: Counter):
    page = owner.get("/shop/choices").text
    for one in setting_table.CHOICES.values():
        assert f'name="{one.key}"' in page
        assert str(escape(one.changes)) in page
        assert str(escape(one.reason)) in page


def test_one_of_a_few_is_picked_and_stands_as_it_was_kept(owner: Counter):
    owner.get("/shop/choices")
    assert owner.post("/shop/choices", limits="usual", tax_included="yes").status_code == 303
    page = owner.get("/shop/choices").text
    assert '<option value="usual" selected>' in page
    assert '<option value="yes" selected>' in page


def test_what_is_changed_is_kept_and_counts(owner: Counter, store: Store):
    owner.get("/shop/choices")
    typed = {
        "hold_h": "72",
        "open_days": "Mon, Wed",
        "stretch_minor": "95.50",
        "tax_basis_points": "8.25",
        "heights_mm": "4 1/2, 9, 12",
        "limits": "usual",
    }
    assert owner.post("/shop/choices", **typed).status_code == 303
    kept = shop.read(store)
    assert (
        kept.hold_h,
        kept.open_days,
        kept.stretch_minor,
        kept.tax_basis_points,
        kept.limits,
    ) == (72, (0, 2), 9550, 825, "usual")
    assert kept.heights_mm == pytest.approx((114.3, 228.6, 304.8))


@pytest.mark.parametrize(
    ("key", "typed", "words"),
    [
        ("hold_h", "a week", "whole number from 12 to 720"),
        ("hold_h", "5", "whole number from 12 to 720"),
        ("zone", "Mars/Olympus", "Pick a city from the list"),
        ("currency", "dollars", "Unknown currency"),
        ("tax_basis_points", "-3", "percent"),
        ("heights_mm", "4", "three to twelve"),
        ("heights_mm", "4, x, 9", ""),
        ("closes_at", "25:00", "time"),
        ("name", "", "name of the shop"),
        ("limits", "wild", "Pick one from the list"),
        ("stretch_minor", "ten", "Type an amount, like 45.00."),
        ("phone", "call me", "phone number, like"),
        ("country", "Narnia", "Unknown country"),
        ("opens_at", "19:00", "after opening time"),
        ("closes_at", "08:00", "after opening time"),
        ("shelves", "A1, the long one by the door", "at most 12 characters"),
        ("heights_mm", "4½; 7; 9½", "with commas between"),
        ("wear_hour", "18:30", "Type a whole number from 0 to 23"),
        ("tax_included", "perhaps", "Pick one from the list"),
        ("locale", "xx_nowhere", "Unknown language"),
        ("reminders_days", "7, soon", "days"),
    ],
)
def test_what_cannot_be_taken_is_said_and_everything_typed_is_still_there(
    owner: Counter, store: Store, key: str, typed: str, words: str
):
    owner.get("/shop/choices")
    before = shop.read(store)
    answer = owner.post("/shop/choices", **{"address": "12 New Street", key: typed})
    assert answer.status_code == 422
    assert words in answer.text
    assert f'value="{typed}"' in answer.text
    assert 'value="12 New Street"' in answer.text
    assert shop.read(store) == before


def test_open_days_are_ticked_and_at_least_one_of_them_is_needed(owner: Counter, store: Store):
    page = owner.get("/shop/choices").text
    ticked = r'name="open_days" value="([A-Z][a-z]{2})" checked><span>([A-Z][a-z]+)</span>'
    assert re.findall(ticked, page)[:2] == [("Tue", "Tuesday"), ("Wed", "Wednesday")]
    assert owner.post("/shop/choices", open_days=["", "Mon", "Sat"]).status_code == 303
    assert shop.read(store).open_days == (0, 5)
    answer = owner.post("/shop/choices", open_days="")
    assert (answer.status_code, "Pick at least one open day." in answer.text) == (422, True)


def test_places_and_money_are_picked_by_name_and_never_shown_as_codes(owner: Counter):
    page = owner.get("/shop/choices").text
    for key, value, name in (
        ("zone", "America/New_York", "New York, United States"),
        ("locale", "en_US", "English (United States)"),
        ("currency", "USD", "US Dollar"),
        ("country", "US", "United States"),
    ):
        assert f'<select id="{key}"' in page
        assert f'<option value="{value}" selected>{name}</option>' in page


def test_choices_are_the_owners_and_the_handbook_is_everybodys(
    counter: Counter, bench: Counter, stranger: Counter
):
    assert counter.get("/shop/choices").status_code == 403
    assert bench.get("/shop/health").status_code == 403
    page = bench.get("/handbook").text.replace("\u00a0", " ")
    assert "25.4 mm" in page
    for said in (
        "strained 15.2 %",
        "12.0 to 20.0 psi on the wall",
        "wear eye cover",
        "the set held",
        "The owner approved",
    ):
        assert said in page, said
    for at, title in re.findall(r'<a href="#(chapter-[0-9]+)">([^<]+)</a>', page):
        assert f'id="{at}" aria-label="{title}"' in page
    assert page.count('<a href="#chapter-') == page.count("<caption>") > 5
    assert stranger.get("/handbook").status_code == 303


def test_health_says_what_wants_a_hand(owner: Counter):
    page = owner.get("/shop/health").text
    assert "needs you." in page or "need you." in page
    assert "none yet" in page
    assert "complete, nobody changed it" in page


def test_another_currency_is_taken_only_after_a_look_at_the_prices(
    owner: Counter, store: Store
) -> None:
    """Prices stay as numbers, so the page asks once, and the second Save is the yes."""
    owner.get("/shop/choices")
    assert owner.post("/shop/choices", stretch_minor="90").status_code == 303
    asked = owner.post("/shop/choices", currency="EUR")
    assert asked.status_code == 422
    assert "$90.00 becomes €90.00" in asked.text
    assert '<input type="hidden" name="sure_of" value="EUR">' in asked.text
    assert shop.read(store).currency == "USD"

    assert owner.post("/shop/choices", currency="EUR", sure_of="USD").status_code == 422
    assert owner.post("/shop/choices", currency="EUR", sure_of="EUR").status_code == 303
    assert shop.read(store).currency == "EUR"


def test_a_shop_without_prices_changes_its_currency_at_once(owner: Counter, store: Store) -> None:
    owner.get("/shop/choices")
    assert owner.post("/shop/choices", currency="EUR").status_code == 303
    assert shop.read(store).currency == "EUR"


def test_weeks_begin_as_in_the_country(owner: Counter, store: Store) -> None:
    def days() -> list[str]:
        return re.findall(r'name="open_days" value="(\w+)"', owner.get("/shop/choices").text)

    assert days()[0] == "Sun"
    assert owner.post("/shop/choices", locale="es_ES").status_code == 303
    assert days() == ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
