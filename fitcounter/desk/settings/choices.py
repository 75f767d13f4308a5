"""What is the shop's choice: each with its label, the reason for its default, and what it changes.

Read from plain text, kept once.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from decimal import Decimal
from zoneinfo import ZoneInfo

from babel import Locale, UnknownLocaleError
from babel.numbers import get_currency_precision, list_currencies

from fitcounter.desk.common import money
from fitcounter.desk.common.contact import is_country, read_phone
from fitcounter.desk.common.fields import check_hours, read_whole
from fitcounter.desk.common.wear_rules import read_minutes
from fitcounter.desk.shop import Shop, choose
from fitcounter.errors import BadInput, BadReading, FitCounterError
from fitcounter.fit.tape import parse_length, say_length
from fitcounter.store import settings
from fitcounter.store.database import Act, Store, Written

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
Read = Callable[[str, Shop, str], object]
Show = Callable[[object, Shop], str]


@dataclass(frozen=True, slots=True)
class Choice:
    """One choice.

    reason: why it is as it is until the shop says otherwise; changes: what it acts on.
    """

    key: str
    label: str
    reason: str
    changes: str
    read: Read
    show: Show


class BadChoices(BadInput):
    """Fields that cannot be taken. wrong: key to sentence; nothing was kept."""

    def __init__(self, wrong: Mapping[str, str]) -> None:
        super().__init__("Some of these cannot be taken, so nothing was kept.")
        self.wrong = dict(wrong)


def _text(typed: str, shop: Shop, field: str) -> str:
    if len(typed) > 120:
        raise BadInput("Keep this to 120 characters at most.", typed=typed, field=field)
    return typed


def _name(typed: str, shop: Shop, field: str) -> str:
    if not typed:
        raise BadInput("Type the name of the shop, as customers know it.", field=field)
    return _text(typed, shop, field)


def _phone(typed: str, shop: Shop, field: str) -> str:
    return read_phone(typed, shop.country, field).typed


def _country(typed: str, shop: Shop, field: str) -> str:
    if not is_country(typed.upper()):
        raise BadInput(
            "Type the country by its two letters, such as US or ES.", typed=typed, field=field
        )
    return typed.upper()


def _zone(typed: str, shop: Shop, field: str) -> str:
    try:
        return ZoneInfo(typed).key
    except (KeyError, ValueError, OSError):
        raise BadInput(
            "Type the zone by its IANA name, such as America/New_York.", typed=typed, field=field
        ) from None


def _locale(typed: str, shop: Shop, field: str) -> str:
    try:
        return str(Locale.parse(typed))
    except (UnknownLocaleError, ValueError, TypeError):
        raise BadInput(
            "Type language and country, such as en_US or es_ES.", typed=typed, field=field
        ) from None


def _currency(typed: str, shop: Shop, field: str) -> str:
    if typed.upper() not in list_currencies():
        raise BadInput(
            "Type the currency by its three letters, such as USD or EUR.", typed=typed, field=field
        )
    return typed.upper()


def _one_of(*known: str) -> Read:
    def read(typed: str, shop: Shop, field: str) -> str:
        if typed not in known:
            raise BadInput(f"Type one of: {', '.join(known)}.", typed=typed, field=field)
        return typed

    return read


def _whole(least: int, most: int, what: str) -> Read:
    return lambda typed, shop, field: read_whole(typed, least, most, field, what)


def _clock(typed: str, shop: Shop, field: str) -> str:
    hour, _, minute = typed.partition(":")
    if not (
        hour.isdigit()
        and minute.isdigit()
        and typed.isascii()
        and len(minute) == 2
        and int(hour) < 24
        and int(minute) < 60
    ):
        raise BadInput("Type a time, like 09:00.", typed=typed, field=field)
    return f"{int(hour):02}:{minute}"


def _sum(typed: str, shop: Shop, field: str) -> int:
    return money.read_amount(typed, shop.currency, field)


def _show_sum(value: object, shop: Shop) -> str:
    return str(Decimal(str(value)).scaleb(-get_currency_precision(shop.currency)))


def _percent(typed: str, shop: Shop, field: str) -> int:
    whole, _, rest = typed.replace(",", ".").rstrip("% ").partition(".")
    if not (
        whole.isdigit()
        and typed.isascii()
        and (rest.isdigit() or not rest)
        and len(rest) <= 2
        and int(whole) <= 50
    ):
        raise BadInput("Type the tax in percent, like 8.25; 0 for none.", typed=typed, field=field)
    return int(whole) * 100 + int((rest + "00")[:2])


def _days(typed: str, shop: Shop, field: str) -> list[int]:
    known = {name.lower()[:3]: number for number, name in enumerate(WEEKDAYS)}
    found = [known.get(part.strip().lower()[:3], -1) for part in typed.split(",") if part.strip()]
    if not found or -1 in found:
        raise BadInput(
            "Type the open days, like Tue, Wed, Thu, Fri, Sat.", typed=typed, field=field
        )
    return sorted(set(found))


def _heights(typed: str, shop: Shop, field: str) -> list[float]:
    try:
        read = [
            parse_length(part.strip(), shop.unit, field).mm
            for part in typed.split(",")
            if part.strip()
        ]
    except BadReading:  # its own sentence speaks of one reading, and here a list is to be typed
        read = []
    if not 3 <= len(read) <= 12 or any(not 30 <= one <= 800 for one in read):
        like = "4 1/2, 7, 9 1/2, 12, 14 1/4" if shop.unit == "in" else "11.5, 18, 24, 30.5, 36"
        raise BadInput(
            f"Type three to twelve heights with commas between, like {like}.",
            typed=typed,
            field=field,
        )
    return sorted({float(one) for one in read})


def _numbers(typed: str, shop: Shop, field: str) -> list[int]:
    return sorted(
        {
            read_whole(part.strip(), 1, 720, field, "days")
            for part in typed.split(",")
            if part.strip()
        }
    )


def _minutes(typed: str, shop: Shop, field: str) -> list[int]:
    return list(read_minutes(typed, field))


def _list(typed: str, shop: Shop, field: str) -> list[str]:
    found = [part.strip() for part in typed.split(",") if part.strip()]
    if len(found) > 200 or any(len(one) > 12 for one in found):
        raise BadInput(
            "Type the shelves with commas between, like C1, C2: at most 200, each of at most 12"
            " characters.",
            typed=typed,
            field=field,
        )
    return found


def _plain(value: object, shop: Shop) -> str:
    return str(value)


def _joined(value: object, shop: Shop) -> str:
    return ", ".join(str(one) for one in value) if isinstance(value, tuple) else str(value)


def _show_heights(value: object, shop: Shop) -> str:
    said = [say_length(one, shop.unit) for one in value] if isinstance(value, tuple) else []
    return ", ".join(one.removesuffix(" in").removesuffix(" cm") for one in said)


def _show_days(value: object, shop: Shop) -> str:
    return ", ".join(WEEKDAYS[one][:3] for one in value) if isinstance(value, tuple) else ""


def _show_percent(value: object, shop: Shop) -> str:
    return f"{Decimal(str(value)) / 100:g}"


def _yes(typed: str, shop: Shop, field: str) -> bool:
    return bool(_one_of("yes", "no")(typed.lower(), shop, field) == "yes")


def _show_yes(value: object, shop: Shop) -> str:
    return "yes" if value else "no"


CHOICES = {
    one.key: one
    for one in (
        Choice(
            "name",
            "Name",
            "as customers know it",
            "every paper, her page, what a stranger's scan shows",
            _name,
            _plain,
        ),
        Choice(
            "phone",
            "Phone",
            "so that she can call",
            "papers, her page, what a stranger's scan shows",
            _phone,
            _plain,
        ),
        Choice("address", "Address", "", "claim check and receipt", _text, _plain),
        Choice(
            "zone",
            "Time zone",
            "where the shop stands",
            "today, due hours, her calendar",
            _zone,
            _plain,
        ),
        Choice(
            "locale",
            "Language and country",
            "how days and sums are written",
            "screens and papers of the shop",
            _locale,
            _plain,
        ),
        Choice("currency", "Currency", "", "tickets opened from now on", _currency, _plain),
        Choice(
            "country",
            "Country of phone numbers",
            "numbers without + are read as of here",
            "the look-up at New job",
            _country,
            _plain,
        ),
        Choice(
            "unit",
            "Tape in",
            "what hangs round the neck",
            "what a bare number means",
            _one_of("in", "cm"),
            _plain,
        ),
        Choice(
            "open_days",
            "Open days",
            "boots go on and come off on these",
            "every promised day",
            _days,
            _show_days,
        ),
        Choice("opens_at", "Opens at", "", "papers", _clock, _plain),
        Choice(
            "closes_at", "Closes at", "", "the words of a call, the evening sheet", _clock, _plain
        ),
        Choice(
            "limits",
            "How far to go",
            "careful, until ten boots of a leather are in the book: published rules of thumb and"
            " week-long practice differ two- to threefold",
            "round and ceiling of pairs taken in from now on",
            _one_of("careful", "usual"),
            _plain,
        ),
        Choice(
            "hold_h",
            "Hours on the tree",
            "a week for the set to hold: common practice, no source",
            "rounds, days, the plan",
            _whole(12, 720, "hours"),
            _plain,
        ),
        Choice(
            "max_rounds",
            "Rounds at most",
            "beyond four, a panel is kinder to leather and purse",
            "the answer, the consent",
            _whole(1, 6, "rounds"),
            _plain,
        ),
        Choice(
            "rounds_included",
            "Rounds in the price",
            "most pairs are done in two",
            "the offer",
            _whole(1, 6, "rounds"),
            _plain,
        ),
        Choice("stretch_minor", "A pair stretched costs", "", "the offer", _sum, _show_sum),
        Choice(
            "round_minor", "A further round costs", "", "the ceiling of the price", _sum, _show_sum
        ),
        Choice(
            "panel_minor",
            "A panel costs from",
            "",
            "the answer when it is a panel",
            _sum,
            _show_sum,
        ),
        Choice(
            "deposit_percent",
            "Deposit, percent",
            "common practice is none to half",
            "the offer",
            _whole(0, 100, "percent"),
            _plain,
        ),
        Choice(
            "tax_basis_points",
            "Tax, percent",
            "none until the owner says so",
            "tickets opened from now on",
            _percent,
            _show_percent,
        ),
        Choice(
            "tax_included", "Tax contained in prices", "", "how the sum is written", _yes, _show_yes
        ),
        Choice(
            "price_kind",
            "Prices are",
            "a quote binds both, an estimate is approximate; local rules differ",
            "the words of the papers",
            _one_of("quote", "estimate"),
            _plain,
        ),
        Choice(
            "heights_mm",
            "The shop's heights",
            "about every two and a half inches up the shaft",
            "Measure, boot stick, leg board",
            _heights,
            _show_heights,
        ),
        Choice(
            "guarantee_years",
            "Guarantee, years",
            "a year is usual here; the law may give more",
            "receipt, her page",
            _whole(0, 10, "years"),
            _plain,
        ),
        Choice(
            "preset",
            "Wearing in",
            "three short wears: common practice",
            "calendars from now on",
            _one_of("three-short-wears", "growing"),
            _plain,
        ),
        Choice(
            "wear_minutes",
            "Minutes of each wear",
            "empty: those of the wearing in above; a pair can have its own at pickup",
            "calendars from now on",
            _minutes,
            _joined,
        ),
        Choice(
            "rest_from",
            "Rest counts from",
            "from putting on the hour stays the same; from taking off is the strict form",
            "calendars from now on",
            _one_of("start", "end"),
            _plain,
        ),
        Choice(
            "wear_hour",
            "Usual hour of a wear",
            "most are home by six",
            "the calendar until she chooses",
            _whole(0, 23, "the hour"),
            _plain,
        ),
        Choice(
            "reminders_days",
            "Reminders, days after ready",
            "common practice; local rules may ask for a notice",
            "calls to make, not fetched",
            _numbers,
            _joined,
        ),
        Choice("shelves", "Shelves", "", "what is offered at the shelf", _list, _joined),
        Choice(
            "link_days_after",
            "Her link lasts, days past the guarantee",
            "a month to look back",
            "her page",
            _whole(1, 400, "days"),
            _plain,
        ),
        Choice(
            "photo_days",
            "Photographs are kept, days",
            "three months past pickup answer most questions",
            "erasing by itself",
            _whole(1, 3650, "days"),
            _plain,
        ),
        Choice(
            "measure_months",
            "Leg girths are kept, months",
            "two years cover the guarantee and one return",
            "erasing by itself",
            _whole(1, 240, "months"),
            _plain,
        ),
    )
}


def shown(shop: Shop) -> dict[str, str]:
    """Every choice as it stands, as it would be typed."""
    return {key: one.show(getattr(shop, key), shop) for key, one in CHOICES.items()}


def usual() -> dict[str, str]:
    """Every choice as it is until the shop says otherwise."""
    return shown(Shop())


def stamp(store: Store) -> int:
    """Which set of choices is looked at."""
    return settings.stamp(store)


def keep(
    store: Store, act: Act, shop: Shop, typed: Mapping[str, str], seen: int | None = None
) -> Written | None:
    """Keeps what was changed; None where nothing was. seen: the stamp of the set that was looked
    at.

    Raises BadChoices with a sentence for each field that cannot be taken; Conflict where another
    set has come since.
    """
    known = {one.name for one in fields(Shop)}
    now, wrong, read = shown(shop), {}, {}
    for key, text in typed.items():
        if key not in CHOICES or key not in known or text == now[key]:
            continue
        try:
            read[key] = CHOICES[key].read(text.strip(), shop, key)
        except FitCounterError as error:
            wrong[key] = error.sentence
    if not wrong and read.keys() & {"opens_at", "closes_at"}:
        try:
            check_hours(
                str(read.get("opens_at", shop.opens_at)), str(read.get("closes_at", shop.closes_at))
            )
        except BadInput as error:
            wrong["closes_at"] = error.sentence
    if wrong:
        raise BadChoices(wrong)
    return choose(store, act, seen, **read) if read else None
