"""What a choice of the shop is, as it would be typed into its field."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from babel.numbers import get_currency_precision

from fitcounter.desk.common.translation import spoken
from fitcounter.desk.settings.setting_readers import WEEKDAYS
from fitcounter.desk.shop import Shop
from fitcounter.fit.tape import say_length

Text = Callable[[object, Shop], str]


def amount(value: object, shop: Shop) -> str:
    major = Decimal(str(value)).scaleb(-get_currency_precision(shop.currency))
    return spoken().decimals(str(major))


def plain(value: object, shop: Shop) -> str:
    return str(value)


def joined(value: object, shop: Shop) -> str:
    return ", ".join(str(part) for part in value) if isinstance(value, tuple) else str(value)


def heights(value: object, shop: Shop) -> str:
    lengths = [say_length(mm, shop.unit) for mm in value] if isinstance(value, tuple) else []
    return ", ".join(length.removesuffix(" in").removesuffix(" cm") for length in lengths)


def weekdays(value: object, shop: Shop) -> str:
    return ", ".join(WEEKDAYS[day][:3] for day in value) if isinstance(value, tuple) else ""


def day_hours(value: object, shop: Shop) -> str:
    own = enumerate(value) if isinstance(value, tuple) else ()
    return ", ".join(f"{WEEKDAYS[day][:3]} {hours}" for day, hours in own if hours)


def percent(value: object, shop: Shop) -> str:
    return spoken().decimals(f"{Decimal(str(value)) / 100:g}")


def yes_or_no(value: object, shop: Shop) -> str:
    return "yes" if value else "no"
