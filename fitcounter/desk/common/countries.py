"""What a shop takes from its country until it says otherwise: language, currency, tape and zone."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from babel import Locale
from babel.core import get_global
from babel.languages import get_official_languages
from babel.numbers import get_territory_currencies

from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.translation import is_locale
from fitcounter.desk.shop import Shop

USUAL = Shop()
INCH_COUNTRIES = ("US",)  # where the tape has inches; from memory
# Of a country with several zones, the one that most of its people live in; from memory.
MAIN_ZONES = {
    "AR": "America/Argentina/Buenos_Aires",
    "AU": "Australia/Sydney",
    "BR": "America/Sao_Paulo",
    "CA": "America/Toronto",
    "CL": "America/Santiago",
    "DE": "Europe/Berlin",
    "EC": "America/Guayaquil",
    "ES": "Europe/Madrid",
    "MX": "America/Mexico_City",
    "NZ": "Pacific/Auckland",
    "PT": "Europe/Lisbon",
    "US": "America/New_York",
}
# The number for an ambulance; from memory. 112 elsewhere: every GSM phone puts it through.
EMERGENCY = {
    "AR": "107",
    "AU": "000",
    "BR": "192",
    "CA": "911",
    "CL": "131",
    "CO": "123",
    "EC": "911",
    "GB": "999",
    "JP": "119",
    "MX": "911",
    "NZ": "111",
    "PE": "106",
    "US": "911",
    "UY": "911",
    "VE": "911",
}


class CountryUsage(NamedTuple):
    """locale: language and country; unit: "in" or "cm"; zone: "" where the country has none."""

    locale: str
    currency: str
    unit: str
    zone: str


def usage(country: str, today: date, fallback: str = "en") -> CountryUsage:
    """What is usual in a country. fallback: the language where the program speaks none of its."""
    spoken_there = get_official_languages(country, de_facto=True)
    code = next((one for one in spoken_there if one in language_codes()), fallback)
    locale = f"{code}_{country}" if is_locale(f"{code}_{country}") else code
    currencies = get_territory_currencies(country, today)
    unit = "in" if country in INCH_COUNTRIES else "cm"
    return CountryUsage(
        locale, currencies[0] if currencies else USUAL.currency, unit, zone(country)
    )


def emergency(country: str) -> str:
    """The number that brings an ambulance in a country."""
    return EMERGENCY.get(country, "112")


def zone(country: str) -> str:
    """The IANA zone that most people of a country live in, as far as that is known."""
    if country in MAIN_ZONES:
        return MAIN_ZONES[country]
    places = get_global("zone_territories").items()
    of_country = (str(name) for name, place in places if place == country)
    return min((name for name in of_country if not name.startswith("Etc/")), default="")


def preferred(accepted: list[str]) -> str:
    """The country that a browser's languages name first: "ES" of es-ES, es; the likeliest one of a
    language without a country; "US" where they say nothing.

    accepted: language tags, the best liked first.
    """
    for tag in accepted:
        if not is_locale(tag.replace("-", "_")):
            continue
        territory = Locale.parse(tag.replace("-", "_")).territory
        likely = str(get_global("likely_subtags").get(tag, ""))
        country = territory or likely.rpartition("_")[2]
        if len(country) == 2 and country.isupper():
            return country
    return USUAL.country
