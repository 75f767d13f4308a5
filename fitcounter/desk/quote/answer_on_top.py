"""The answer where the readings were just saved: above what is asked once more, which may wait."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fitcounter.desk.assessment import limits
from fitcounter.desk.assessment.job import measured
from fitcounter.desk.common.lengths import say_height, say_short_by
from fitcounter.desk.common.translation import say, told
from fitcounter.desk.quote import offer
from fitcounter.desk.quote.instead_of_stretching import GIVES_BACK, keys_for
from fitcounter.desk.quote.verdict import Answer, answer
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.materials import refusals
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.store import findings, fits
from fitcounter.store.database import Store


class AtOnce(NamedTuple):
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


class BeforeTheTape(NamedTuple):
    """Why these boots are not stretched whatever they measure, a sentence each; ways: the choices
    that need no tape, key and name.
    """

    reasons: tuple[str, ...]
    ways: tuple[tuple[str, str], ...]


def before_the_tape(store: Store, fit_id: int) -> BeforeTheTape | None:
    """For boots that leather or damage rules out; None where the tape decides, or it is agreed."""
    boots = [one for one in fits.boots(store, fit_id) if one.state in offer.WAITING]
    reasons: dict[str, None] = {}
    for boot in boots:
        seen = {one.word for one in findings.of_item(store, boot.id)}
        leather = limits.leather_of(store, boot.material)
        reasons |= dict.fromkeys(map(told, refusals(leather, seen, bool(boot.signed_off))))
    if not reasons:
        return None
    ways = [(key, say(GIVES_BACK[key][0])) for key in keys_for(boots) if key in GIVES_BACK]
    sentences = (f"{one[:1].upper()}{one[1:].removesuffix('.')}." for one in reasons)
    return BeforeTheTape(tuple(sentences), tuple(ways))


def _short(side: str, verdict: Verdict, unit: str) -> str:
    amount = say_short_by(verdict.worst.need_mm, unit)
    height = say_height(verdict.worst.height_mm, unit)
    if side == "left":
        return say("Left {amount} short at {height}.", amount=amount, height=height)
    return say("Right {amount} short at {height}.", amount=amount, height=height)
