"""What a choice of the shop is, read from the text of its field.

Each reader takes the text without blanks around it, the shop as it stands and the field's name,
and gives the value that is kept. Raises BadInput, or BadReading where it is a sum.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from zoneinfo import ZoneInfo

from babel import Locale, UnknownLocaleError
from babel.numbers import list_currencies

from fitcounter.desk.common import money
from fitcounter.desk.common.contact import is_country, read_phone
from fitcounter.desk.common.fields import check_hours, read_whole
from fitcounter.desk.common.translation import say
from fitcounter.desk.common.wear_rules import read_minutes
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, BadReading
from fitcounter.fit.tape import parse_length

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_DAY_SEPARATORS = re.compile(r"[,;/&\s]+|\band\b")
_DAY_RANGE = re.compile(r"\s*[-–—]\s*|\s+(?:to|through)\s+")
Reader = Callable[[str, Shop, str], object]


def text(typed: str, shop: Shop, field: str) -> str:
    """At most 120 characters."""
    if len(typed) > 120:
        raise BadInput(say("Too long: type at most 120 characters."), typed=typed, field=field)
    return typed


def shop_name(typed: str, shop: Shop, field: str) -> str:
    """The name of the shop, never empty."""
    if not typed:
        raise BadInput(say("Type the name of the shop, as customers know it."), field=field)
    return text(typed, shop, field)


def phone(typed: str, shop: Shop, field: str) -> str:
    """The number as it was typed; one without + is read as of the shop's country."""
    return read_phone(typed, shop.country, field).typed


def country(typed: str, shop: Shop, field: str) -> str:
    """Two letters of ISO 3166, as capitals."""
    if not is_country(typed.upper()):
        raise BadInput(say("Unknown country. Pick one from the list."), typed=typed, field=field)
    return typed.upper()


def zone(typed: str, shop: Shop, field: str) -> str:
    """The key of an IANA zone."""
    try:
        return ZoneInfo(typed).key
    except (KeyError, ValueError, OSError):
        raise BadInput(
            say("Unknown time zone. Pick a city from the list."), typed=typed, field=field
        ) from None


def locale(typed: str, shop: Shop, field: str) -> str:
    """Language and country, such as es_ES."""
    try:
        return str(Locale.parse(typed))
    except (UnknownLocaleError, ValueError, TypeError):
        raise BadInput(
            say("Unknown language. Pick one from the list."), typed=typed, field=field
        ) from None


def currency(typed: str, shop: Shop, field: str) -> str:
    """Three letters of ISO 4217, as capitals."""
    if typed.upper() not in list_currencies():
        raise BadInput(say("Unknown currency. Pick one from the list."), typed=typed, field=field)
    return typed.upper()


def one_of(*known: str) -> Reader:
    """A reader of one of a few words."""

    def read(typed: str, shop: Shop, field: str) -> str:
        if typed not in known:
            raise BadInput(say("Pick one from the list."), typed=typed, field=field)
        return typed

    return read


def whole(least: int, most: int) -> Reader:
    """A reader of a whole number in a range."""

    def read(typed: str, shop: Shop, field: str) -> int:
        if not (typed.isascii() and typed.isdigit() and len(typed) < 10):
            number = least - 1
        else:
            number = int(typed)
        if not least <= number <= most:
            raise BadInput(
                say("Type a whole number from {least} to {most}.", least=least, most=most),
                typed=typed,
                field=field,
            )
        return number

    return read


def clock(typed: str, shop: Shop, field: str) -> str:
    """A time of day, as 09:00."""
    hour, _, minute = typed.partition(":")
    if not (
        hour.isdigit()
        and minute.isdigit()
        and typed.isascii()
        and len(minute) == 2
        and int(hour) < 24
        and int(minute) < 60
    ):
        raise BadInput(say("Type a time, like 09:00."), typed=typed, field=field)
    return f"{int(hour):02}:{minute}"


def amount(typed: str, shop: Shop, field: str) -> int:
    """A sum in minor units of the shop's currency."""
    return money.read_amount(typed, shop.currency, field)


def percent(typed: str, shop: Shop, field: str) -> int:
    """Hundredths of a percent, 0 to 50 percent."""
    units, _, rest = typed.replace(",", ".").rstrip("% ").partition(".")
    if not (
        units.isdigit()
        and typed.isascii()
        and (rest.isdigit() or not rest)
        and len(rest) <= 2
        and int(units) <= 50
    ):
        raise BadInput(
            say("Type the tax in percent, like 8.25. Type 0 for no tax."), typed=typed, field=field
        )
    return int(units) * 100 + int((rest + "00")[:2])


def weekdays(typed: str, shop: Shop, field: str) -> list[int]:
    """Weekdays in order, 0 = Monday; at least one.

    As "Mon, Wed", "Mon Wed", "Mon-Fri" or "Monday to Friday".
    """
    words = _DAY_SEPARATORS.sub(" ", _DAY_RANGE.sub(" - ", typed.lower())).split()
    numbers: list[int] = []
    for place, word in enumerate(words):
        if word == "-" and 0 < place < len(words) - 1 and words[place + 1] != "-":
            numbers += _days_between(numbers[-1], _weekday(words[place + 1], typed, field))
        else:
            numbers.append(_weekday(word, typed, field))
    if not numbers:
        raise BadInput(say("Pick at least one open day."), typed=typed, field=field)
    return sorted(set(numbers))


def day_hours(typed: str, shop: Shop, field: str) -> list[str]:
    """Hours of the weekdays that have their own, seven texts, "" for the usual ones.

    As "Sat 09:00-13:00, Wed 10:00-20:00".
    """
    hours = [""] * len(WEEKDAYS)
    for part in typed.split(","):
        if not part.strip():
            continue
        name, _, times = part.strip().partition(" ")
        opens, _, closes = times.partition("-")
        if not opens.strip() or not closes.strip():
            words = say("Type when the shop opens and when it closes that day, or neither.")
            raise BadInput(words, typed=part.strip(), field=field)
        opens_at, closes_at = (clock(one.strip(), shop, field) for one in (opens, closes))
        check_hours(opens_at, closes_at, field)
        hours[_weekday(name.lower(), typed, field)] = f"{opens_at}-{closes_at}"
    return hours if any(hours) else []


def _weekday(word: str, typed: str, field: str) -> int:
    """0 for "mon" or "monday". Raises BadInput for any other word, so that no day is dropped."""
    for number, name in enumerate(WEEKDAYS):
        if len(word) >= 3 and name.lower().startswith(word.removesuffix(".")):
            return number
    raise BadInput(say("Pick at least one open day."), typed=typed, field=field)


def _days_between(first: int, last: int) -> list[int]:
    """The weekdays after `first` up to `last`, over the weekend where that comes first."""
    return [(first + n) % 7 for n in range(1, (last - first) % 7 + 1)]


def heights(typed: str, shop: Shop, field: str) -> list[float]:
    """Three to twelve heights in mm, 30 to 800, in order."""
    try:
        read = [
            parse_length(part.strip(), shop.unit, field).mm
            for part in typed.split(",")
            if part.strip()
        ]
    except BadReading:  # its own sentence speaks of one reading, and here a list is to be typed
        read = []
    if not 3 <= len(read) <= 12 or any(not 30 <= mm <= 800 for mm in read):
        like = "4 1/2, 7, 9 1/2, 12, 14 1/4" if shop.unit == "in" else "11.5, 18, 24, 30.5, 36"
        raise BadInput(
            say("Type three to twelve heights with commas between, like {like}.", like=like),
            typed=typed,
            field=field,
        )
    return sorted({float(mm) for mm in read})


def days_after(typed: str, shop: Shop, field: str) -> list[int]:
    """Whole days, 1 to 720 each, in order; none where nothing is typed."""
    return sorted(
        {
            read_whole(part.strip(), 1, 720, field, say("each number of days"))
            for part in typed.split(",")
            if part.strip()
        }
    )


def minutes(typed: str, shop: Shop, field: str) -> list[int]:
    """Minutes of each wear, in their order."""
    return list(read_minutes(typed, field))


def shelves(typed: str, shop: Shop, field: str) -> list[str]:
    """Up to 200 names of shelves, each of at most 12 characters."""
    names = [part.strip() for part in typed.split(",") if part.strip()]
    if len(names) > 200 or any(len(name) > 12 for name in names):
        raise BadInput(
            say(
                "Type at most 200 shelves with commas between, like C1, C2."
                " A name has at most 12 characters."
            ),
            typed=typed,
            field=field,
        )
    return names


def yes_or_no(typed: str, shop: Shop, field: str) -> bool:
    """True for yes."""
    return bool(one_of("yes", "no")(typed.lower(), shop, field) == "yes")
