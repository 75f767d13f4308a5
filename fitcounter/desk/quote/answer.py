"""Can it be done? The stored rows go through fit.assess; what comes back is put into the words of
the counter, with two days.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import zip_longest
from typing import Any

from fitcounter.desk.assessment import limits, shop_records
from fitcounter.desk.assessment.job import Records, build_job, measured
from fitcounter.desk.bench import plan as bench_plan
from fitcounter.desk.quote.promise_dates import TwoDays, two_days
from fitcounter.desk.shop import Shop
from fitcounter.errors import OutOfOrder
from fitcounter.fit.assessment.assess import Assessment
from fitcounter.fit.assessment.words import goes_sentence
from fitcounter.fit.handbook.rounds import MOST_ROUNDS
from fitcounter.fit.plan.jobs import Plan
from fitcounter.store import findings, fits, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Finding, Fit, Item, Ticket

# The tier of a pair, heaviest last, as it is said to the customer.
TIERS = {
    "none": "They fit already",
    "routine": "Yes, in one or two goes",
    "stages": "Yes, in stages",
    "repair-first": "Mend first",
    "panel": "Not by stretching: a panel",
    "refuse": "Better not",
    "safe": "As far as is safe",
}
STRETCHES = ("routine", "stages", "repair-first", "safe")


@dataclass(frozen=True, slots=True)
class Answer:
    """What a pair was answered.

    result: the assessment as JSON; sides: those that were measured. tier: of the pair, or 'safe'.
    """

    ticket: Ticket
    fit: Fit
    boots: tuple[Item, ...]
    assessment: Assessment
    result: dict[str, Any]
    sides: tuple[str, ...]
    tier: str
    days: TwoDays
    seen: tuple[Finding, ...] = field(default=())

    @property
    def headline(self) -> str:
        return TIERS[self.tier]

    @property
    def sentence(self) -> str:
        """The one sentence under the headline."""
        odds = [
            one.verdict.course.odds
            for one in self.assessment.sides
            if one.verdict.course and one.verdict.tier != "none"
        ]
        if self.tier not in STRETCHES or not odds:
            return ""
        said = goes_sentence(max(odds, key=lambda one: one.eight_in_ten or MOST_ROUNDS + 1))
        return f"{said[:1].upper()}{said[1:]}."

    @property
    def likely(self) -> int | None:
        """The most likely goes of the slower side."""
        return slower(self.result, self.sides, "likely")

    @property
    def eight_in_ten(self) -> int | None:
        """The goes within which eight in ten such boots are done, of the slower side."""
        return slower(self.result, self.sides, "eight_in_ten")

    @property
    def can_stretch(self) -> bool:
        return self.tier in STRETCHES


def answer(
    store: Store, shop: Shop, fit_id: int, today: date, records: Records | None = None
) -> Answer:
    """The answer for a fit as its rows stand. records: kept by leather, else what the shop's own
    finished boots say.

    Raises NotFound; OutOfOrder when nothing was measured yet.
    """
    fit = fits.get(store, fit_id)
    boots = fits.boots(store, fit_id)
    read = measured(store, boots)
    if not read:
        raise OutOfOrder(
            "These boots are not measured yet. Measure them, then the answer stands here."
        )
    sides = tuple(str(boot.side) for boot in read)
    job = build_job(store, fit, read, shop_records.records(store) if records is None else records)
    safe = read[0].target == "safe"
    told = limits.told(store, job, sides, safe=safe)
    result: dict[str, Any] = told.as_json()
    tier = "safe" if safe and told.verdict != "refuse" else told.verdict
    likely, most = slower(result, sides, "likely"), slower(result, sides, "eight_in_ten")
    days = (
        _days(store, shop, today, fit, likely, most) if tier in STRETCHES else TwoDays(None, None)
    )
    seen = tuple(one for boot in boots for one in findings.of_item(store, boot.id))
    return Answer(
        tickets.get(store, fit.ticket_id), fit, tuple(boots), told, result, sides, tier, days, seen
    )


def _days(
    store: Store, shop: Shop, today: date, fit: Fit, likely: int | None, most: int | None
) -> TwoDays:
    """From the bench plan, around everything that is reserved; counted without trees where no tree
    can be planned.
    """
    planned = bench_plan.two_dates(store, shop, today, fit.id)
    if planned.promise is not None:
        return TwoDays(
            planned.hope, planned.promise, _reads(planned.plan, f"fit{fit.id}"), len(planned.late)
        )
    return two_days(shop, today, likely, most, fit.hold_h, fit.max_rounds)


def _reads(plan: Plan, pair: str) -> tuple[date, ...]:
    """When each go is measured again, the later of both boots."""
    own = [
        [step.day for step in boot.steps if step.kind == "read"]
        for boot in plan.boots
        if boot.pair == pair
    ]
    return tuple(max(day for day in together if day is not None) for together in zip_longest(*own))


def slower(result: dict[str, Any], sides: Sequence[str], key: str) -> int | None:
    """likely or eight_in_ten of the side that takes longer; None where one of them gives none
    beyond the counted rounds.
    """
    told = [
        result[side][key]
        for side in sides
        if result[side]["rounds"] is not None and result[side]["tier"] != "none"
    ]
    if not told or any(one is None for one in told):
        return None
    return int(max(told))
