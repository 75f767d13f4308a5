"""The answer where the readings were just saved: above what is asked once more, which may wait."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from fitcounter.desk.assessment.job import measured
from fitcounter.desk.common.lengths import say_height, say_short_by
from fitcounter.desk.common.translation import say
from fitcounter.desk.quote import offer
from fitcounter.desk.quote.answer import Answer, answer
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.store import fits
from fitcounter.store.database import Store


@dataclass(frozen=True, slots=True)
class AtOnce:
    """The answer in a few words. short: what each boot is short by, in a sentence each, where it
    is; may_agree: something waits to be agreed, and the answer is work that is done.
    """

    answer: Answer
    short: tuple[str, ...]
    may_agree: bool


def at_once(store: Store, shop: Shop, fit_id: int, today: date) -> AtOnce | None:
    """What a pair is answered; None while it is not measured. today: the shop's own day.

    Raises NotFound.
    """
    if not measured(store, fits.boots(store, fit_id)):
        return None
    given = answer(store, shop, fit_id, today)
    unit = given.assessment.job.unit
    sides = given.assessment.sides
    waits = any(boot.state in offer.WAITING for boot in given.boots)
    return AtOnce(
        given,
        tuple(_short(side.name, side.verdict, unit) for side in sides if side.verdict.worst.short),
        waits and given.tier not in ("refuse", "none"),
    )


def _short(side: str, verdict: Verdict, unit: str) -> str:
    amount = say_short_by(verdict.worst.need_mm, unit)
    height = say_height(verdict.worst.height_mm, unit)
    if side == "left":
        return say("Left {amount} short at {height}.", amount=amount, height=height)
    return say("Right {amount} short at {height}.", amount=amount, height=height)
