"""Public holidays come from the kept library, in a process of its own."""

from __future__ import annotations

from datetime import date

from fitcounter.papers import holiday_library, public_holidays


def test_a_country_s_holidays_are_named_in_the_language_asked_for():
    days = public_holidays.days_of("ES", (2026,), "es")
    assert (date(2026, 1, 6), "Epifanía del Señor", "es") in days
    assert days == sorted(days)
    assert (date(2026, 1, 6), "Epiphany", "en") in public_holidays.days_of("ES", (2026,), "en")


def test_a_language_the_library_lacks_comes_in_english_and_says_so():
    days = holiday_library.days_of("US", (2026,), "es")
    assert (date(2026, 12, 25), "Christmas Day", "en") in days


def test_a_country_it_does_not_know_has_none():
    assert holiday_library.days_of("XX", (2026,), "en") == []
