"""What is asked before it is saved: a wear far longer or shorter than planned, boots at night."""

from __future__ import annotations

from datetime import time

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.fit.wear import wear_changes
from fitcounter.fit.wear.rest import is_night
from fitcounter.store import wears
from fitcounter.store.database import Store


def ask_minutes(store: Store, ticket_id: int, n: int, minutes: int) -> None:
    """Raises BadInput at field "sure" where so many minutes are asked about; NotFound."""
    doubt = wear_changes.is_doubtful(wears.get(store, ticket_id)[1], n, minutes)
    if doubt == "long":
        words = say(
            "Really {minutes} minutes? Look at your skin. Your boots then rest one more day. If it"
            " is right, save again.",
            minutes=minutes,
        )
        raise BadInput(words, typed=str(minutes), field="sure")
    if doubt:
        words = say(
            "Only {minutes} minutes: did something hurt? Then tell the shop below. If not, save"
            " again.",
            minutes=minutes,
        )
        raise BadInput(words, typed=str(minutes), field="sure")


def ask_hour(at: time) -> None:
    """Raises BadInput at field "late" for an hour between ten at night and seven. From any other a
    wear that would go on past ten is planned earlier.
    """
    if is_night(at.hour):
        words = say("That is at night. Boots on when you are tired? If you mean it, save again.")
        raise BadInput(words, typed=f"{at:%H:%M}", field="late")
