"""How a pair is worn in: by a preset, with the minutes of the shop's own or of this pair where
somebody gave them.
"""

from __future__ import annotations

from dataclasses import replace

from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.fit.handbook.wearing import LONGEST_WEAR_MIN, MOST_WEARS
from fitcounter.fit.wear.wear import WearRules, preset

OWN = "own"


def read_minutes(typed: str, field: str) -> tuple[int, ...]:
    """The minutes of each wear in their order, like 30, 30, 30; empty where nothing is typed.

    Raises BadInput.
    """
    parts = [part.strip() for part in typed.split(",")] if typed.strip() else []
    sound = all(
        part.isascii() and part.isdigit() and len(part) < 5 and 1 <= int(part) <= LONGEST_WEAR_MIN
        for part in parts
    )
    if not sound or len(parts) > MOST_WEARS:
        words = say(
            "Type minutes with commas, like 30, 30, 30: at most {most}, up to {longest} each.",
            most=MOST_WEARS,
            longest=LONGEST_WEAR_MIN,
        )
        raise BadInput(words, typed=typed, field=field)
    return tuple(int(part) for part in parts)


def rules(shop: Shop, name: str, minutes: tuple[int, ...] = ()) -> WearRules:
    """The rules of a calendar.

    name: of a preset; minutes: of this pair, empty for the shop's, else the preset's. Raises
    BadInput.
    """
    usual = replace(preset(name), rest_from=shop.rest_from)
    own = minutes or shop.wear_minutes
    return replace(usual, minutes=own, preset=OWN) if own and own != usual.minutes else usual
