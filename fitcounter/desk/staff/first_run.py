"""The first run: a shop without people is set up once, by whoever read the token that the program
printed.

No account comes with the program (OWASP ASVS 5.0 6.3.2); the token is good once, for an hour
(6.4.1).
"""

from __future__ import annotations

import hmac
import re
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from babel.numbers import list_currencies

from fitcounter.desk.common import countries, money
from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.common.contact import is_country
from fitcounter.desk.common.fields import check_hours
from fitcounter.desk.common.lengths import say_length, say_short_by
from fitcounter.desk.common.translation import marked, say, speech, spoken
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets
from fitcounter.desk.staff import people
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.errors import BadInput, Conflict, NotAllowed
from fitcounter.fit.handbook import leather
from fitcounter.store import settings, staff
from fitcounter.store.database import Act, Store, Written, utc_text

LIVES = timedelta(hours=1)
SIZES = ("S", "M", "L")
MOST_TREES = 20
LIMITS = {
    "usual": marked("Usual: as far as week-long practice goes"),
    "careful": marked(
        "Careful: half as far. On a {girth} boot it says “add a panel” from {soft} short in soft"
        " leather and from {firm} in firm leather; usual would stretch both."
    ),
}


def limits_words() -> dict[str, str]:
    """What each way of limiting a stretch is called, and what the careful one refuses, in the
    language spoken now and in inches: no unit is picked yet.
    """
    refused = {
        "girth": say_length(leather.CAREFUL_GIRTH_MM, "in"),
        "soft": say_short_by(leather.CAREFUL_SOFT_MM, "in"),
        "firm": say_short_by(leather.CAREFUL_FIRM_MM, "in"),
    }
    return {limits: say(words, **refused) for limits, words in LIMITS.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstRun:
    """What the first run asks.

    country: two letters; language, currency, unit, paper and hours: "" for what is usual there.
    price: the one price line, as typed. trees: pairs of trees by size. All else has a default.
    """

    country: str
    language: str
    currency: str
    unit: str
    paper: str
    hours: str
    shop_name: str
    zone: str
    opens_at: str
    closes_at: str
    price: str
    trees: dict[str, int]
    limits: str
    name: str
    initials: str
    passphrase: str
    pin: str = ""


def is_new(store: Store) -> bool:
    """Has nobody been set up yet?"""
    return not staff.with_former(store)


def new_setup_token(store: Store, now: datetime) -> str:
    """A fresh token for the first run, or '' where the shop has its people.

    The file keeps only its hash.
    """
    if not is_new(store):
        return ""
    setup_token = secrets.token_urlsafe(16)
    with store.write_tx():
        settings.put(store, "first_run", [token_hash(setup_token), utc_text(now + LIVES)])
    return setup_token


def check_setup_token(store: Store, setup_token: str, now: datetime) -> None:
    """Raises NotAllowed for a wrong or old token, Conflict when the shop is set up already."""
    if not is_new(store):
        raise Conflict(say("This shop is set up already. Sign in instead."))
    held, until = settings.everything(store).get("first_run", ["", ""])
    if not hmac.compare_digest(token_hash(setup_token), held) or utc_text(now) >= until:
        raise NotAllowed(
            say(
                "This address is wrong or older than an hour. Start the program again: it prints a"
                " new one."
            )
        )


def set_up(store: Store, act: Act, setup_token: str, answers: FirstRun) -> Written:
    """The shop's first choices, its trees and its owner, all or nothing.

    Raises BadInput, NotAllowed, Conflict.
    """
    check_setup_token(store, setup_token, act.at)
    _check(answers)
    chosen = _chosen(answers, act.at)
    staff_secrets.good_passphrase(answers.passphrase, (answers.shop_name, answers.name))
    secrets_of = {
        "passphrase_hash": staff_secrets.hash_secret(answers.passphrase),
        "pin_hash": (
            staff_secrets.hash_secret(staff_secrets.good_pin(answers.pin)) if answers.pin else None
        ),
    }
    columns = people.checked(store, answers.name, answers.initials, "owner")

    def write() -> Written:
        check_setup_token(
            store, setup_token, act.at
        )  # two at once: the second finds the shop set up
        for key, value in chosen.items():
            settings.put(store, key, value)
        row_id = store.insert("staff", **columns, **secrets_of, created_at=utc_text(act.at))
        settings.put(store, "first_run", ["", ""])
        for label, size, side in _trees(answers.trees):
            store.insert("trees", label=label, size=size, side=side)
        return Written(row_id=row_id, detail={"staff": row_id, "role": "owner"})

    return store.once(act, "first-run", write)


def _check_country(answers: FirstRun) -> None:
    """Raises BadInput for a country, or what is other than usual in it, that is not known."""
    if not is_country(answers.country):
        raise BadInput(
            say("Unknown country. Pick one from the list."), typed=answers.country, field="country"
        )
    if answers.currency and answers.currency not in list_currencies():
        raise BadInput(
            say("Unknown currency. Pick one from the list."),
            typed=answers.currency,
            field="currency",
        )
    for field, typed, known in (
        ("language", answers.language, languages()),
        ("unit", answers.unit, ("in", "cm")),
        ("paper", answers.paper, ("a4", "letter")),
        ("hours", answers.hours, ("12", "24")),
    ):
        if typed and typed not in known:
            raise BadInput(say("Pick one from the list."), typed=typed, field=field)


def _check(answers: FirstRun) -> None:
    _check_country(answers)
    if not answers.shop_name.strip():
        raise BadInput(say("Type the name of the shop, as customers know it."), field="shop_name")
    try:
        ZoneInfo(answers.zone)
    except (OSError, ValueError, KeyError):
        raise BadInput(
            say("Unknown time zone. Pick a city from the list."),
            typed=answers.zone,
            field="zone",
        ) from None
    for field, typed in (("opens_at", answers.opens_at), ("closes_at", answers.closes_at)):
        if not re.fullmatch(r"([01][0-9]|2[0-3]):[0-5][0-9]", typed):
            raise BadInput(say("Type a time, like 09:00."), typed=typed, field=field)
    check_hours(answers.opens_at, answers.closes_at)
    for size, pairs in answers.trees.items():
        if not 0 <= pairs <= MOST_TREES:
            raise BadInput(
                say("Type how many pairs, from 0 to {most}.", most=MOST_TREES),
                typed=str(pairs),
                field=f"trees_{size.lower()}",
            )
    if answers.limits not in LIMITS:
        raise BadInput(say("Pick careful or usual."), typed=answers.limits, field="limits")


def _chosen(answers: FirstRun, now: datetime) -> dict[str, object]:
    """The shop's first choices: as they were typed, and else as is usual in the country.

    Raises BadInput at the price.
    """
    usual = countries.usage(answers.country, now.date(), spoken().code)
    own = speech(answers.language, f"{answers.language}_{answers.country}")
    currency = answers.currency or usual.currency
    return {
        "country": answers.country,
        "locale": own.locale if answers.language else usual.locale,
        "currency": currency,
        "unit": answers.unit or usual.unit,
        "paper": answers.paper,
        "hours": answers.hours,
        "name": answers.shop_name.strip(),
        "zone": answers.zone,
        "opens_at": answers.opens_at,
        "closes_at": answers.closes_at,
        "stretch_minor": money.read_amount(answers.price, currency, "price"),
        "limits": answers.limits,
    }


def _trees(pairs: dict[str, int]) -> list[tuple[str, str, str]]:
    """A left and a right tree a pair, numbered from 1: label, size, side."""
    sizes = [size for size in SIZES for _ in range(pairs.get(size, 0))]
    both = [(size, side) for size in sizes for side in ("left", "right")]
    return [(str(number), size, side) for number, (size, side) in enumerate(both, 1)]
