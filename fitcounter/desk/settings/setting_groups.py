"""The shop's choices in the order an owner looks for them, and the names of what a list offers."""

from __future__ import annotations

from functools import cache
from zoneinfo import available_timezones

from babel import Locale
from babel.core import get_global
from babel.dates import get_timezone_location
from babel.localedata import locale_identifiers
from babel.numbers import get_currency_name

from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.contact import is_country
from fitcounter.desk.common.translation import is_locale, marked, say, spoken
from fitcounter.desk.shop import Shop

GROUPS = (
    (
        marked("The shop"),
        (
            *("name", "phone", "address", "zone", "locale", "hours", "currency", "country"),
            *("unit", "paper", "slip_paper", "name_on_tag"),
        ),
    ),
    (
        marked("Days and shelves"),
        ("open_days", "day_hours", "opens_at", "closes_at", "shelves"),
    ),
    (marked("Stretching"), ("limits", "hold_h", "max_rounds", "heights_mm")),
    (
        marked("Prices"),
        (
            "stretch_minor",
            "rounds_included",
            "round_minor",
            "panel_minor",
            "rush_minor",
            "deposit_percent",
            "price_kind",
            "tax_basis_points",
            "tax_included",
            "tax_number",
        ),
    ),
    (
        marked("After pickup"),
        (
            "preset",
            "wear_minutes",
            "rest_from",
            "wear_hour",
            "guarantee_years",
            "reminders_days",
            "link_days_after",
            "send_link",
        ),
    ),
    (marked("How long things are kept"), ("photo_days", "measure_months")),
)
WEEK = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")  # as the field of open days has them
FEW = {
    "unit": {"in": marked("Inches"), "cm": marked("Centimeters")},
    "hours": {
        "": marked("As usual in the country"),
        "12": marked("12 hours, like 6:00 PM"),
        "24": marked("24 hours, like 18:00"),
    },
    "paper": {
        "": marked("As usual in the country"),
        "a4": marked("A4"),
        "letter": marked("Letter"),
    },
    "slip_paper": {
        "": marked("Like the other papers"),
        "a6": marked("A6"),
        "half": marked("Half Letter"),
        "roll80": marked("Till roll, 80 mm"),
        "roll58": marked("Till roll, 58 mm"),
    },
    "name_on_tag": {"no": marked("No"), "yes": marked("Yes")},
    "limits": {
        "usual": marked("Usual"),
        "careful": marked("Careful: half as far"),
    },
    "price_kind": {"quote": marked("A quote"), "estimate": marked("An estimate")},
    "tax_included": {"no": marked("No, tax is added"), "yes": marked("Yes, tax is included")},
    "send_link": {"yes": marked("Yes"), "no": marked("No")},
    "preset": {
        "three-short-wears": marked("Three short wears, then as usual"),
        "growing": marked("Longer each time, one day between"),
    },
    "rest_from": {"start": marked("Putting the boots on"), "end": marked("Taking the boots off")},
}


def options(shop: Shop) -> dict[str, dict[str, str]]:
    """For each choice with a list: what it may be, and the name of each in the language spoken now.

    What the shop has is always among them.
    """
    language = spoken().code
    few = {key: {value: say(name) for value, name in names.items()} for key, names in FEW.items()}
    return {
        **few,
        "zone": {**zones(language), **_own_zone(shop.zone, language)},
        "locale": {**locales(language), **_own_locale(shop.locale, language)},
        "currency": {**currencies(language), shop.currency: _currency(shop.currency, language)},
        "country": {**countries(language), shop.country: _country(shop.country, language)},
    }


def week() -> list[tuple[str, str]]:
    """The days of the week, each as its field has it and by its name in the language spoken now.

    They begin with the day that weeks begin with there.
    """
    locale = Locale.parse(spoken().locale)
    names, first = locale.days["stand-alone"]["wide"], locale.first_week_day
    order = [*range(first, len(WEEK)), *range(first)]
    return [(WEEK[number], names[number].capitalize()) for number in order]


@cache
def zones(language: str) -> dict[str, str]:
    """IANA zones by city and country, in the order of their names. language: as "en"."""
    places = get_global("zone_territories")
    known = available_timezones() & places.keys()
    return _by_name(
        {zone: _zone(zone, language) for zone in known if is_country(str(places[zone]))}
    )


@cache
def locales(language: str) -> dict[str, str]:
    """The countries of every language that the program speaks, as "English (Canada)"."""
    codes = (code for code in locale_identifiers() if code.partition("_")[0] in language_codes())
    parsed = (Locale.parse(code) for code in codes)
    return _by_name(
        {
            str(one): _locale(str(one), language)
            for one in parsed
            if not one.script and not one.variant and is_country(one.territory or "")
        }
    )


@cache
def currencies(language: str) -> dict[str, str]:
    """Every currency that some country pays with now, by name."""
    held = get_global("territory_currencies").values()
    now = {code for of_one in held for code, _, end, tender in of_one if tender and end is None}
    return _by_name({code: _currency(code, language) for code in now})


@cache
def countries(language: str) -> dict[str, str]:
    """Every country whose way of writing phone numbers is known, by name."""
    named = map(str, Locale.parse(language).territories)
    codes = (code for code in named if is_country(code))
    return _by_name({code: _country(code, language) for code in codes})


def _by_name(names: dict[str, str]) -> dict[str, str]:
    return dict(sorted(names.items(), key=lambda item: item[1].casefold()))


def _zone(zone: str, language: str) -> str:
    city = get_timezone_location(zone, locale=language, return_city=True)
    country = _country(str(get_global("zone_territories").get(zone, "")), language)
    return f"{city}, {country}" if country and country != city else city


def _own_zone(zone: str, language: str) -> dict[str, str]:
    return {} if zone in zones(language) else {zone: _zone(zone, language)}


def _locale(code: str, language: str) -> str:
    known = is_locale(code)  # one that nobody knows is named by its code, until another is picked
    name = (known and Locale.parse(code).get_display_name(language)) or code
    return name[:1].upper() + name[1:]


def _own_locale(code: str, language: str) -> dict[str, str]:
    return {} if code in locales(language) else {code: _locale(code, language)}


def _currency(code: str, language: str) -> str:
    return get_currency_name(code, locale=language)


def _country(code: str, language: str) -> str:
    return str(Locale.parse(language).territories.get(code, code))
