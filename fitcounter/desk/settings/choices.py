"""The shop's choices as they stand, and kept as they are typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from fitcounter.desk.common.fields import check_hours
from fitcounter.desk.settings.choice_table import CHOICES
from fitcounter.desk.shop import Shop, choose
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.store import settings
from fitcounter.store.database import Act, Store, Written


class BadChoices(BadInput):
    """Fields that cannot be taken. wrong: key to sentence; nothing was kept."""

    def __init__(self, wrong: Mapping[str, str]) -> None:
        super().__init__("Some of these cannot be taken, so nothing was kept.")
        self.wrong = dict(wrong)


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
