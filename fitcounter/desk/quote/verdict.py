"""Can it be done? The stored rows go through `fit.assessment`; what comes back is put into the
words of the counter, with two days.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import zip_longest
from typing import NamedTuple

from fitcounter.desk.assessment import learnt_from_own_boots, limits
from fitcounter.desk.assessment.job import build_job, measured
from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.assessment.verdict_notes import nearly_closes, stop_sentence
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import marked, say, spoken, told
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.quote.promise_dates import TwoDays, two_days
from fitcounter.desk.shop import Shop
from fitcounter.errors import OutOfOrder
from fitcounter.fit.assessment.assess import Assessment, SideAnswer
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.fit.assessment.words import most_rounds_said, rounds_sentence
from fitcounter.fit.handbook.rounds import MOST_ROUNDS, ROUTINE_ROUNDS
from fitcounter.fit.plan.jobs import Plan
from fitcounter.store import findings, fits, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Finding, Fit, Item, Ticket

# The tier of a pair, heaviest last, as it is said to the customer.
TIERS = {
    "none": marked("They fit already"),
    "routine": marked("Yes, in one or two rounds"),
    "stages": marked("Yes, in stages"),
    "repair-first": marked("Repair first"),
    "panel": marked("Not by stretching: add a panel"),
    "refuse": marked("Better not"),
    "safe": marked("As much as the leather will take"),
}
NEARLY_CLOSES = marked("They nearly close")
STRETCHES = ("routine", "stages", "repair-first", "safe")


class Answer(NamedTuple):
    """What a pair was answered. assessment: of the boots that were measured; tier: of the pair, or
    'safe'; seen: on its boots.
    """

    ticket: Ticket
    fit: Fit
    boots: tuple[Item, ...]
    assessment: Assessment
    tier: str
    days: TwoDays
    seen: tuple[Finding, ...] = ()

    @property
    def headline(self) -> str:
        """The answer in a few words; with both days where it is yes, but not by the needed one."""
        needed, day = self.ticket.needed_by, self.days.promise
        if self.can_stretch and needed and day and day.isoformat() > needed:
            return not_by(date.fromisoformat(needed), day)
        nearly = any(nearly_closes(side.verdict) for side in self.assessment.sides)
        if self.tier == "none" and nearly:
            return say(NEARLY_CLOSES)
        slower = self.slower if self.tier == "routine" else None
        longer = slower is not None and most_rounds_said(slower) > ROUTINE_ROUNDS
        return say(TIERS["stages" if longer else self.tier])

    @property
    def slower(self) -> Odds | None:
        """The odds of the boot that takes longer, which are the ones that are said."""
        return max(self.odds, key=lambda side: side.eight_in_ten or MOST_ROUNDS + 1, default=None)

    @property
    def sentence(self) -> str:
        """The one sentence under the headline, '' where nothing is to be stretched or a rule says
        to stop.
        """
        if not self.can_stretch or self.slower is None or self.stopped:
            return ""
        said = told(rounds_sentence(self.slower))
        return f"{said[:1].upper()}{said[1:]}."

    @property
    def stopped(self) -> bool:
        """A rule says to stop one of the boots before another round: no odds are said."""
        return any(stop_sentence(side.verdict) for side in self.assessment.sides)

    @property
    def odds(self) -> list[Odds]:
        """How many rounds it takes, of each boot that is short and may be stretched."""
        return odds_of(side.verdict for side in self.assessment.sides)

    @property
    def likely(self) -> int | None:
        """The most likely rounds of the slower side."""
        return slowest([side.likely for side in self.odds])

    @property
    def eight_in_ten(self) -> int | None:
        """The rounds within which eight in ten such boots are done, of the slower side."""
        return slowest([side.eight_in_ten for side in self.odds])

    @property
    def instead(self) -> str:
        """What is let in, by its key in the list of work; '' where it is stretched, or refused and
        nothing was chosen.
        """
        if self.tier == "panel":
            return self.fit.instead or "panel"
        return self.fit.instead if self.tier == "refuse" else ""

    @property
    def can_stretch(self) -> bool:
        return self.tier in STRETCHES

    @property
    def measured(self) -> list[tuple[Item, SideAnswer]]:
        """The boots that were measured, each with its own answer."""
        answers = {side.name: side for side in self.assessment.sides}
        return [(boot, answers[str(boot.side)]) for boot in self.boots if boot.side in answers]


def not_by(needed: date, day: date) -> str:
    """Yes, but later than the day they are needed by."""
    words = spoken()
    return say(
        "Yes, but not by {needed}: could be ready {day}.",
        needed=words.day(needed),
        day=words.day(day),
    )


def answer(store: Store, shop: Shop, fit_id: int, today: date) -> Answer:
    """The answer for a fit as its rows stand. today: the shop's own day.

    Raises NotFound; OutOfOrder when nothing was measured yet.
    """
    fit = fits.get(store, fit_id)
    boots = fits.boots(store, fit_id)
    read = measured(store, boots)
    if not read:
        raise OutOfOrder(say("These boots are not measured yet. Measure them first."))
    safe = read[0].target == "safe"
    job = build_job(store, fit, read, records=learnt_from_own_boots.records(store, fit.id))
    assessment = limits.assessed(store, job, safe=safe)
    tier = "safe" if safe and assessment.verdict != "refuse" else assessment.verdict
    days = TwoDays(None, None)
    if tier in STRETCHES:
        standings = {
            boot.id: Standing(side.case, side.verdict)
            for boot, side in zip(read, assessment.sides, strict=True)
        }
        days = _days(store, shop, today, fit, standings)
    return Answer(
        ticket=tickets.get(store, fit.ticket_id),
        fit=fit,
        boots=tuple(boots),
        assessment=assessment,
        tier=tier,
        days=days,
        seen=tuple(seen for boot in boots for seen in findings.of_item(store, boot.id)),
    )


def odds_of(verdicts: Iterable[Verdict]) -> list[Odds]:
    """How many rounds each boot takes that is short and may be stretched."""
    return [
        verdict.course.odds for verdict in verdicts if verdict.course and verdict.tier != "none"
    ]


def slowest(rounds: Sequence[int | None]) -> int | None:
    """The most of these rounds; None where there are none, or one of them is beyond the counted."""
    counted = [number for number in rounds if number is not None]
    return max(counted) if counted and len(counted) == len(rounds) else None


def _days(
    store: Store, shop: Shop, today: date, fit: Fit, standings: Mapping[int, Standing]
) -> TwoDays:
    """From the bench plan, around everything that is reserved; counted without trees where no tree
    can be planned.

    standings: of the boots that were measured, by item.
    """
    planned = bench_plan.two_dates(store, shop, today, fit.id, standings)
    if planned.promise is not None:
        reads = _reads(planned.plan, f"fit{fit.id}")
        return TwoDays(planned.hope, planned.promise, reads, len(planned.late))
    odds = odds_of(standing.verdict for standing in standings.values())
    likely = slowest([side.likely for side in odds])
    eight_in_ten = slowest([side.eight_in_ten for side in odds])
    days = shop_days.of_shop(store, shop)
    return two_days(days, today, (likely, eight_in_ten), fit.hold_h, fit.max_rounds)


def _reads(plan: Plan, pair: str) -> tuple[date, ...]:
    """When each round is measured again, the later of both boots."""
    own = [
        [step.day for step in boot.steps if step.kind == "read"]
        for boot in plan.boots
        if boot.pair == pair
    ]
    return tuple(max(day for day in together if day is not None) for together in zip_longest(*own))
