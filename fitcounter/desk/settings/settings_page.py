"""The shop's choices as they stand, and kept as they are typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from fitcounter.desk.common import money
from fitcounter.desk.common.fields import check_hours
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say
from fitcounter.desk.settings.setting_table import CHOICES
from fitcounter.desk.shop import Shop, choose
from fitcounter.store import bills, settings
from fitcounter.store.database import Act, Store, Written


def shown(shop: Shop) -> dict[str, str]:
    """Every choice as it stands, as it would be typed."""
    return {key: choice.show(getattr(shop, key), shop) for key, choice in CHOICES.items()}


def usual() -> dict[str, str]:
    """Every choice as it is until the shop says otherwise."""
    return shown(Shop())


def stamp(store: Store) -> int:
    """Which set of choices is looked at."""
    return settings.stamp(store)


def _has_prices(store: Store) -> bool:
    """Whether a price was ever typed, for the shop or on a ticket."""
    chosen = settings.everything(store).keys()
    return bool(
        chosen & {"stretch_minor", "round_minor", "panel_minor", "rush_minor"}
    ) or bills.any_line(store)


def _question(shop: Shop, currency: str) -> str:
    amounts = [money.say(shop.stretch_minor, code) for code in (shop.currency, currency)]
    return say(
        "Prices stay as numbers: {was} becomes {now}. Check every price, then save again.",
        was=amounts[0],
        now=amounts[1],
    )


def keep(
    store: Store,
    act: Act,
    shop: Shop,
    typed: Mapping[str, str],
    seen: int | None = None,
    sure_of: str = "",
) -> Written | None:
    """Keeps what was changed; None where nothing was. seen: the stamp of the set that was looked
    at. sure_of: the currency that was asked about: prices stay as numbers, so another one is not
    taken without a question.

    Raises BadFields with a sentence for each field that cannot be taken; Conflict where another
    set has come since.
    """
    known = {one.name for one in fields(Shop)}
    now, problems, read = shown(shop), Problems(), {}
    for key, text in typed.items():
        if key not in CHOICES or key not in known or text == now[key]:
            continue
        with problems.reading(key):
            read[key] = CHOICES[key].read(text.strip(), shop, key)
    hours = {"opens_at", "closes_at"}
    if read.keys() & hours and not problems.sentences.keys() & hours:
        with problems.reading("closes_at"):
            check_hours(
                str(read.get("opens_at", shop.opens_at)), str(read.get("closes_at", shop.closes_at))
            )
    if read.get("currency") not in (None, sure_of) and _has_prices(store):
        problems.add("currency", _question(shop, str(read["currency"])))
    problems.raise_any()
    return choose(store, act, seen, **read) if read else None
