"""What a shop takes from its country, and which country a browser's languages name."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk.common.countries import CountryUsage, preferred, usage, zone

TODAY = date(2026, 3, 17)


@pytest.mark.parametrize(
    ("country", "expected"),
    [
        ("US", CountryUsage("en_US", "USD", "in", "America/New_York")),
        ("ES", CountryUsage("es_ES", "EUR", "cm", "Europe/Madrid")),
        ("MX", CountryUsage("es_MX", "MXN", "cm", "America/Mexico_City")),
        ("GB", CountryUsage("en_GB", "GBP", "cm", "Europe/London")),
        ("JP", CountryUsage("en", "JPY", "cm", "Asia/Tokyo")),
    ],
)
def test_language_currency_tape_and_zone_follow_the_country(
    country: str, expected: CountryUsage
) -> None:
    assert usage(country, TODAY) == expected


def test_where_the_program_speaks_no_language_of_the_country_it_speaks_that_of_the_browser() -> (
    None
):
    assert usage("DE", TODAY, "es").locale == "es"


@pytest.mark.parametrize(
    ("accepted", "country"),
    [
        (["es-ES", "es"], "ES"),
        (["es"], "ES"),
        (["en-GB", "en"], "GB"),
        (["en"], "US"),
        (["tlh", "de-AT"], "AT"),
        (["tlh"], "US"),
        ([], "US"),
    ],
)
def test_the_browsers_languages_name_a_country(accepted: list[str], country: str) -> None:
    assert preferred(accepted) == country


def test_a_country_without_a_zone_has_none() -> None:
    assert zone("ZZ") == ""
