"""The shop's choices as they stand, and kept as they are typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from fitcounter.desk.common.fields import check_hours
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.settings.choice_table import CHOICES
from fitcounter.desk.shop import Shop, choose
from fitcounter.store import settings
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


def keep(
    store: Store, act: Act, shop: Shop, typed: Mapping[str, str], seen: int | None = None
) -> Written | None:
    """Keeps what was changed; None where nothing was. seen: the stamp of the set that was looked
    at.

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
    problems.raise_any()
    return choose(store, act, seen, **read) if read else None
