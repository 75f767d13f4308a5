"""Can I promise Friday? Asked before there is a ticket: a leather, how much it is short, and a day.

Asking saves nothing; `keep_days` keeps the trees for a day. The boot is taken to be as boots of its
leather usually are; the bench is as it stands, with everything that is planned around it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.assessment import limits
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.measuring.sheet import read_length
from fitcounter.desk.plan import plan_inputs
from fitcounter.desk.plan.kept_for_boots_at_home import SLOT_SIDES
from fitcounter.desk.plan.plan_inputs import REST_DAYS, Inputs
from fitcounter.desk.quote.verdict import STRETCHES, TIERS, not_by
from fitcounter.desk.quote.who_moves import Moving, moves, who_moves
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.fit.assessment.assess import read_job
from fitcounter.fit.assessment.hold_choices import HoldChoice, hold_choices
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.fit.handbook.bench import QUESTION_PLACEMENTS
from fitcounter.fit.handbook.leather import LEATHERS
from fitcounter.fit.plan import made_late
from fitcounter.fit.plan.jobs import BenchJob, PairPlan, Plan, Side
from fitcounter.fit.plan.plan import plan
from fitcounter.store import plans, trees
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.plans import SlotClaim

USUAL_GIRTH = "370 mm"  # of a tall boot at the calf, where nobody measured yet (shop's choice)
USUAL_HEIGHT = "300 mm"
PAIR = "asked"


class PromiseAsk(NamedTuple):
    """leather: its code; short: how much, as typed; sides: "pair", "left" or "right"."""

    leather: str
    short: str
    sides: str
    needed: date | None


class Whose(NamedTuple):
    """For whom days are kept, and whether it is to be a rush job."""

    name: str
    rush: bool = False


class PromiseAnswer(NamedTuple):
    """headline: yes, yes but, or no. day: the one that may be promised; earliest: if the likely
    rounds do. of_100: how many such boots are ready by the needed day, None where none is asked.

    helps: what it would take, in sentences. late: pairs that would be late by it. moves: whose
    booking moves for it, in sentences. moving: who would have to move so that they are ready
    sooner, None where that helps nobody. plan: with these boots in it.
    """

    headline: str
    day: date | None = None
    earliest: date | None = None
    rounds: int | None = None
    of_100: int | None = None
    helps: tuple[str, ...] = ()
    late: tuple[PairPlan, ...] = ()
    moves: tuple[str, ...] = ()
    moving: Moving | None = None
    plan: Plan | None = None


def can_promise(store: Store, shop: Shop, now: datetime, asked: PromiseAsk) -> PromiseAnswer:
    """The answer as the bench stands at `now`. Raises BadInput, BadReading at the fields."""
    verdict, choices = _assessed(store, shop, asked)
    if verdict.tier not in STRETCHES or verdict.course is None:
        return PromiseAnswer(say(TIERS[verdict.tier]))
    odds = verdict.course.odds
    bench = _bench(plan_inputs.inputs(store, shop, shop.today(now)))
    new = [_job(store, shop, side, odds) for side in SLOT_SIDES[asked.sides]]
    after = bench.with_boots(new)
    pair = after.pair(PAIR)
    day = pair.ready if pair else None
    in_time = asked.needed is not None and day is not None and day <= asked.needed
    ahead = None
    if asked.needed and day and not in_time:
        ahead = bench.with_boots([replace(job, promised=asked.needed) for job in new])
    return PromiseAnswer(
        headline=_headline(asked.needed, day),
        day=day,
        earliest=pair.hope if pair else None,
        rounds=odds.eight_in_ten,
        of_100=_of_100(bench, new, odds, asked.needed),
        helps=() if in_time else tuple(_helps(bench, new, choices, day)),
        late=made_late.late_in(bench.before, after, PAIR),
        moves=moves(store, bench.before, after),
        moving=who_moves(store, bench.before, ahead, PAIR, day) if ahead and day else None,
        plan=after,
    )


def keep_days(
    store: Store, act: Act, shop: Shop, asked: PromiseAsk, whose: Whose, *, move: bool = False
) -> Written:
    """Keeps the trees of the answer until the next open day has gone by, or until the ticket made
    from it has them.

    move: those of the proposal in which others move. Raises BadInput, at `name` without one.
    """
    if not whose.name.strip():
        raise BadInput(say("Type whose boots they are."), field="name")
    answer = can_promise(store, shop, act.at, asked)
    chosen = answer.moving.plan if move and answer.moving else answer.plan
    pair = chosen.pair(PAIR) if chosen else None
    if chosen is None or pair is None:
        raise BadInput(answer.headline, field="short", typed=asked.short)
    days = shop_days.of_shop(store, shop)
    until = days.next_open(shop.today(act.at) + timedelta(days=1))
    slot = {
        "name": whose.name.strip(),
        "leather": asked.leather,
        "sides": asked.sides,
        "needed_by": asked.needed.isoformat() if asked.needed else None,
        "rush": int(whose.rush),
        "ready_day": pair.ready.isoformat(),
        "kept_until": until.isoformat(),
    }

    def write() -> Written:
        slot_id = store.insert("promised_slots", **slot)
        claims = _claims(store, chosen, slot_id, whose.name.strip())
        for claim in claims:
            plans.add_slot(store, claim)
        words = say(
            "The trees are kept until {until}. Could be ready {day}.",
            until=spoken().day(until),
            day=spoken().day(pair.ready),
        )
        return Written(row_id=slot_id, words=words, detail={"holds": len(claims)})

    return store.once(act, "days-kept", write)


def _claims(store: Store, chosen: Plan, slot_id: int, name: str) -> list[SlotClaim]:
    """The trees of the boots that were asked about."""
    ids = {one.label: one.id for one in trees.everyone(store)}
    claims = []
    for hold in chosen.holds():
        pair, _, side = hold.job.partition("-")
        if pair == PAIR:
            on, off = hold.on.isoformat(), hold.off.isoformat()
            claims.append(SlotClaim(ids[hold.tree], name, hold.round, on, off, slot_id, side))
    return claims


class _AskedBench(NamedTuple):
    """The bench with its plan, asked many times over: each answer with a short search."""

    given: Inputs
    before: Plan

    def with_boots(self, new: Sequence[BenchJob], more: tuple[str, ...] = ()) -> Plan:
        """The plan with these boots too. more: trees beside those of the shop."""
        given, jobs = self.given, (*self.given.jobs, *new)
        tree_days = replace(given.tree_days, trees=(*given.tree_days.trees, *more))
        return plan(jobs, tree_days, self.before.holds(), QUESTION_PLACEMENTS)

    def ready(self, new: Sequence[BenchJob], more: tuple[str, ...] = ()) -> date | None:
        pair = self.with_boots(new, more).pair(PAIR)
        return pair.ready if pair else None


def _bench(given: Inputs) -> _AskedBench:
    return _AskedBench(given, plan(given.jobs, given.tree_days, given.last))


def _assessed(store: Store, shop: Shop, asked: PromiseAsk) -> tuple[Verdict, list[HoldChoice]]:
    """The answer for a usual boot of that leather, and what other holds would do."""
    if asked.leather not in LEATHERS:
        raise BadInput(say("Pick one from the list."), typed=asked.leather, field="leather")
    if asked.sides not in SLOT_SIDES:
        raise BadInput(say("Pick which boots."), typed=asked.sides, field="sides")
    short = read_length(asked.short, shop.unit, "short", "gap")
    side = {
        "target": "amount",
        "boot": [{"height": at, "girth": [USUAL_GIRTH]} for at in ("100 mm", "400 mm")],
        "amounts": [{"height": USUAL_HEIGHT, "amount": f"{short.float_mm:.2f} mm"}],
    }
    made: dict[str, object] = {"unit": "mm", "boot": {"material": asked.leather}, "left": side}
    made |= {"limits": shop.limits, "hold_h": shop.hold_h, "max_rounds": shop.max_rounds}
    verdict = limits.assessed(store, read_job(made, ("left",))).sides[0].verdict
    return verdict, hold_choices(verdict.course.stand) if verdict.course else []


def _job(store: Store, shop: Shop, side: Side, odds: Odds) -> BenchJob:
    labels = tuple(
        one.label
        for one in trees.everyone(store)
        if one.state == "sound" and one.side in (side, "either")
    )
    return BenchJob(
        id=f"{PAIR}-{side}",
        pair=PAIR,
        side=side,
        arrival=10**9,
        trees=labels,
        rounds_likely=odds.likely,
        rounds_promise=odds.eight_in_ten,
        max_rounds=shop.max_rounds,
        hold_h=float(shop.hold_h),
        rest_days=REST_DAYS,
    )


def _headline(needed: date | None, day: date | None) -> str:
    if day is None:
        return say("No tree is free for them.")
    if needed is None:
        return say("Yes: promise {day}.", day=spoken().day(day))
    if day <= needed:
        return say("Yes, by {needed}.", needed=spoken().day(needed))
    return not_by(needed, day)


def _of_100(
    bench: _AskedBench, new: Sequence[BenchJob], odds: Odds, needed: date | None
) -> int | None:
    """Of 100 such boots, how many are done in the rounds that fit in before the needed day."""
    if needed is None:
        return None
    fitting = -1
    for rounds in range(new[0].max_rounds + 1):
        fixed = [replace(job, rounds_likely=rounds, rounds_promise=rounds) for job in new]
        ready = bench.ready(fixed)
        if ready is None or ready > needed:
            break
        fitting = rounds
    return round(100 * odds.within(fitting)) if fitting >= 0 else 0


def _helps(
    bench: _AskedBench, new: Sequence[BenchJob], choices: Sequence[HoldChoice], day: date | None
) -> list[str]:
    """A shorter hold, and a second tree, where they would save days."""
    if day is None:
        return []
    said = []
    for choice in choices:
        sooner = bench.ready([_held(job, choice) for job in new])
        if choice.hold_h < new[0].hold_h and sooner is not None and sooner < day:
            said.append(_saves(say("{hours} h on the tree", hours=int(choice.hold_h)), sooner))
    more = tuple(f"+{job.side}" for job in new)
    doubled = [replace(job, trees=(*job.trees, f"+{job.side}")) for job in new]
    sooner = bench.ready(doubled, more)
    if sooner is not None and sooner < day:
        said.append(_saves(say("One more tree for each boot"), sooner))
    return said


def _held(job: BenchJob, choice: HoldChoice) -> BenchJob:
    likely, eight_in_ten = choice.likely, choice.eight_in_ten
    return replace(job, hold_h=choice.hold_h, rounds_likely=likely, rounds_promise=eight_in_ten)


def _saves(what: str, sooner: date) -> str:
    return say("{what}: could be ready {day}.", what=what, day=spoken().day(sooner))
