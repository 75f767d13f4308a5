"""How a sum, a figure and a list look on a page: as the language spoken now writes them (CLDR)."""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy
from decimal import Decimal

from babel import Locale
from babel.numbers import format_currency, format_percent, get_currency_precision

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import spoken


def owed(minor: int, currency: str) -> str:
    """The same without its minor digits where they are nought: owes $45."""
    if minor % 10 ** get_currency_precision(currency):
        return money.say(minor, currency)
    locale = spoken().locale
    pattern = copy(Locale.parse(locale).currency_formats["standard"])
    pattern.frac_prec = (0, 0)
    major = Decimal(minor).scaleb(-get_currency_precision(currency))
    text = format_currency(major, currency, format=pattern, locale=locale, currency_digits=False)
    return text.replace("-", "−")


def number(value: float, digits: int = 1) -> str:
    """A figure with at most so many decimals, written as the locale does."""
    return spoken().number(value, digits)


def percent(share: float, digits: int = 0) -> str:
    """A share in percent, written as the locale does: 66% or 66 %. share: 1 is all; digits: its
    decimals.
    """
    pattern = copy(Locale.parse(spoken().locale).percent_formats[None])
    pattern.frac_prec = (digits, digits)
    return format_percent(round(share, digits + 2), format=pattern, locale=spoken().locale)


def listed(parts: Iterable[object]) -> str:
    """Parts as the locale writes a list: 20, 21 and 22."""
    return spoken().listed([str(part) for part in parts])
