"""Can it be done? as the page shows it: the answer, its drawing, its price, and every number with
its source word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import accumulate, pairwise

from fitcounter.desk.assessment.drawing import profile
from fitcounter.desk.assessment.limits import OWN_FIGURES
from fitcounter.desk.quote import consent, offer
from fitcounter.desk.quote.answer import Answer, answer
from fitcounter.desk.quote.promise_dates import finished
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.assess import SideAnswer
from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job import Side
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.options import panel_words
from fitcounter.fit.assessment.reasons import deciding
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.assessment.words import goes
from fitcounter.fit.drawings.pair import Drawing, profile_drawing
from fitcounter.fit.handbook.leg import TOLERANCE_MM
from fitcounter.fit.handbook.rounds import MOST_ROUNDS
from fitcounter.store import customers
from fitcounter.store.database import Store
from fitcounter.store.records import Customer

# A height that was read so near the tightest place is not told apart from it in the table.
NEAR_MM = 4.0
LEAST_SHOWN = 0.005  # a share of boots that rounds to none of a hundred has no bar


@dataclass(frozen=True, slots=True)
class GoesBar:
    """One line of the bar of rounds: how many of a hundred such boots."""

    words: str
    of_100: int
    most: bool


@dataclass(frozen=True, slots=True)
class SourcedFigure:
    """A number, its value in words and its source word."""

    name: str
    value: str
    source: str


@dataclass(frozen=True, slots=True)
class SidePage:
    """One boot: its tightest place, its table of heights from the top down, its bar, its figures.

    legs_read: a leg was read at one of the heights; reach_mm: growth after 1 … so many goes.
    """

    side: str
    tier: str
    worst: PlaceNow
    heights: tuple[PlaceNow, ...]
    bars: tuple[GoesBar, ...]
    figures: tuple[SourcedFigure, ...]
    reach_mm: tuple[float, ...]

    @property
    def legs_read(self) -> bool:
        return any(place.first.leg_mm is not None for place in self.heights)


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictPage:
    """The answer with its drawing, sentences and price.

    panels: what a panel measures, where it is the answer; deciding: the numbers that decided; why:
    all that weighed, in order. price_minor: what is asked; ceiling_minor: not more than this
    without asking; included: goes in the price; by_then: what can be had by the needed day; open:
    something waits to be agreed.
    """

    answer: Answer
    customer: Customer
    drawing: Drawing
    sides: tuple[SidePage, ...]
    price_minor: int
    ceiling_minor: int
    included: int
    may_happen: tuple[str, ...]
    panels: tuple[str, ...]
    deciding: tuple[str, ...]
    would_change: tuple[str, ...]
    why: tuple[str, ...]
    by_then: str
    open: bool


def verdict_page(store: Store, shop: Shop, fit_id: int, today: date) -> VerdictPage:
    """The page of a fit as its rows stand. today: the shop's own day.

    Raises NotFound; OutOfOrder when nothing was measured yet.
    """
    given = answer(store, shop, fit_id, today)
    price_minor = _price_minor(given, shop)
    return VerdictPage(
        answer=given,
        customer=customers.get(store, given.ticket.customer_id),
        drawing=_drawing(given, shop),
        sides=tuple(_side(given, side) for side in given.assessment.sides),
        price_minor=price_minor,
        ceiling_minor=price_minor + offer.further_minor(shop, given),
        included=shop.rounds_included,
        may_happen=tuple(consent.sentences(given.boots, given.seen)),
        panels=_panels(given),
        deciding=_deciding(given),
        would_change=_would_change(given),
        why=both([(side.name, side.reasons) for side in given.assessment.sides]),
        by_then=_by_then(given, shop),
        open=any(boot.state in offer.WAITING for boot in given.boots),
    )


def _price_minor(given: Answer, shop: Shop) -> int:
    """What is asked for the answer; 0 where nothing is done."""
    if given.can_stretch:
        return shop.stretch_minor
    return shop.panel_minor if given.tier == "panel" else 0


def _panels(given: Answer) -> tuple[str, ...]:
    """Where the answer is a panel: its width and depth on each side."""
    if given.tier != "panel":
        return ()
    unit = given.assessment.job.unit
    panels = [(side.name, side.verdict.panel) for side in given.assessment.sides]
    return both([(name, [panel_words(panel, unit)] if panel else []) for name, panel in panels])


def _deciding(given: Answer) -> tuple[str, ...]:
    """The numbers that decided against stretching; all of them stand behind one tap."""
    job = given.assessment.job
    return both(
        [
            (side.name, deciding(job, side.side, side.case, side.verdict))
            for side in given.assessment.sides
        ]
    )


def _would_change(given: Answer) -> tuple[str, ...]:
    """What would change it; a panel is the last resort in it, and no change where it is the answer
    itself.
    """
    changes = []
    for side in given.assessment.sides:
        answered = given.tier == "panel" and side.verdict.panel is not None
        changes.append((side.name, side.would_change[:-1] if answered else side.would_change))
    return both(changes)


def both(by_side: Sequence[tuple[str, Sequence[str]]]) -> tuple[str, ...]:
    """Each side's sentences under its name, in their order; what both say alike stands once."""
    sides: dict[str, list[str]] = {}
    for name, sentences in by_side:
        for sentence in sentences:
            sides.setdefault(sentence, []).append(name)
    if len(by_side) == 1:
        return tuple(f"{sentence[:1].upper()}{sentence[1:]}." for sentence in sides)
    return tuple(
        f"{'Both' if len(names) > 1 else names[0].capitalize()}: {sentence}."
        for sentence, names in sides.items()
    )


def _by_then(given: Answer, shop: Shop) -> str:
    """What can be had by the day she needs them, where that is before the promised one."""
    if given.ticket.needed_by is None or given.days.promise is None or not given.can_stretch:
        return ""
    needed = date.fromisoformat(given.ticket.needed_by)
    if given.days.promise <= needed:
        return ""
    rounds = sum(finished(shop, day) <= needed for day in given.days.reads)
    if not rounds:
        return "No go on the tree is done by then."
    shares = [
        reach_mm[min(rounds, len(reach_mm)) - 1] / side.verdict.worst.need_mm
        for side in given.assessment.sides
        if (reach_mm := _reach_mm(side)) and side.verdict.worst.need_mm > TOLERANCE_MM
    ]
    tenths = min(9, int(min(shares, default=1.0) * 10))
    return f"By then {goes(rounds)} on the tree: about {tenths} tenths of it."


def _reach_mm(side: SideAnswer) -> tuple[float, ...]:
    """Growth to expect after 1 … so many goes; empty where nothing is stretched."""
    return side.verdict.course.reach_mm if side.verdict.course else ()


def _drawing(given: Answer, shop: Shop) -> Drawing:
    profiles = {side.name: profile(side.case, side.verdict) for side in given.assessment.sides}
    return profile_drawing(
        profiles.get("left"),
        profiles.get("right"),
        unit="in" if given.fit.unit == "in" else "cm",
        marks=shop.heights_mm,
    )


def _side(given: Answer, side: SideAnswer) -> SidePage:
    verdict, worst_mm = side.verdict, side.verdict.worst.height_mm
    odds = verdict.course.odds if verdict.course else None
    shown = {
        round(mm, 3)
        for mm in _read_heights(side.side)
        if mm == worst_mm or abs(mm - worst_mm) > NEAR_MM
    } | {round(worst_mm, 3)}
    rows = [place for place in verdict.places if round(place.height_mm, 3) in shown]
    return SidePage(
        side.name,
        verdict.tier,
        verdict.worst,
        tuple(reversed(rows)),
        tuple(_bars(odds) if odds and odds.likely is not None else ()),
        tuple(_figures(given, side)),
        _reach_mm(side),
    )


def _read_heights(side: Side) -> list[float]:
    """Every height of one side that was read or asked for, mm as read."""
    return [
        reading.height.float_mm
        for readings in (side.gaps, side.amounts, side.shaft, side.leg)
        for reading in readings
    ]


def _bars(odds: Odds) -> list[GoesBar]:
    """Of a hundred boots, by rounds; the last line takes what is left, so that they add up to a
    hundred.
    """
    *counted, more = odds.shares
    most = max(odds.shares)
    shown = [(number, share) for number, share in enumerate(counted) if share >= LEAST_SHOWN]
    steps = [0, *(round(100 * grown) for grown in accumulate(share for _, share in shown))]
    bars = [
        GoesBar(_goes_words(number), after - before, share == most)
        for (number, share), (before, after) in zip(shown, pairwise(steps), strict=True)
    ]
    rest = 100 - sum(bar.of_100 for bar in bars)
    return [*bars, GoesBar(f"more than {MOST_ROUNDS}", rest, more == most)] if rest > 0 else bars


def _goes_words(number: int) -> str:
    return "no go" if number == 0 else f"{number} go" + ("es" if number != 1 else "")


def _figures(given: Answer, side: SideAnswer) -> list[SourcedFigure]:
    """The numbers behind the answer, each with the word that says how far it can be trusted."""
    case, verdict = side.case, side.verdict
    by_the_book = (case.leather, case.factors) == (case.boot.leather, HANDBOOK.factors)
    own = "shop's choice" if by_the_book else OWN_FIGURES
    limits, worst = verdict.limits, verdict.worst
    figures = [
        SourcedFigure("Usual for this leather", f"{limits.routine * 100:.1f} %", own),
        SourcedFigure("Most in one go", f"{limits.round * 100:.1f} %", own),
        SourcedFigure("Most on the tree, ever", f"{limits.ceiling * 100:.1f} %", own),
        SourcedFigure(
            "Stretch asked for, of the leather there",
            f"{worst.strain_total * 100:.1f} %",
            "read here",
        ),
    ]
    if verdict.course:
        kept = verdict.course.stand.kept
        source = f"{kept.boots} of the shop's boots" if kept.boots else own
        keeps = f"{kept.mean:.2f} ± {kept.sd:.2f}"
        figures.append(SourcedFigure("Keeps of an opening, after a day", keeps, source))
    doubt = f"± {worst.first.need_u_mm:.1f} mm"
    return [
        *figures,
        SourcedFigure("Time on the tree, a go", f"{given.fit.hold_h} h", "common practice"),
        SourcedFigure("Doubt of the shortfall", doubt, "shop's choice"),
    ]
