"""Can it be done? as the page shows it: the answer, its drawing, its price, and every number with
its source word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from fitcounter.desk.assessment.drawing import profile
from fitcounter.desk.assessment.limits import OWN_FIGURES
from fitcounter.desk.quote import consent, offer
from fitcounter.desk.quote.answer import Answer, answer
from fitcounter.desk.quote.promise_dates import finished
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.options import panel_words
from fitcounter.fit.assessment.reasons import deciding
from fitcounter.fit.assessment.words import goes
from fitcounter.fit.drawings.pair import Drawing, profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, Place
from fitcounter.fit.handbook.leg import TOLERANCE_MM
from fitcounter.store import customers
from fitcounter.store.database import Store
from fitcounter.store.records import Customer, Item

NEAR_MM = (
    4.0  # a height that was read so near the tightest place is not told apart from it in the table
)


@dataclass(frozen=True, slots=True)
class Bar:
    """One line of the bar of rounds: how many of a hundred such boots."""

    words: str
    of_100: int
    most: bool


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, its value in words and its source word."""

    name: str
    value: str
    source: str


@dataclass(frozen=True, slots=True)
class SidePage:
    """One boot: its tightest place, its table of heights, its bar, its figures."""

    side: str
    tier: str
    worst: dict[str, Any]
    heights: tuple[dict[str, Any], ...]
    bars: tuple[Bar, ...]
    figures: tuple[Figure, ...]
    reach_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class VerdictPage:
    """panels: what a panel measures, where it is the answer; deciding: the numbers that decided;
    why: all that weighed, in order.

    price_minor: what is asked; ceiling_minor: not more than this without asking; further_minor: one
    further go.
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


def look(store: Store, shop: Shop, fit_id: int, today: date) -> VerdictPage:
    """Raises NotFound; OutOfOrder when nothing was measured yet."""
    told = answer(store, shop, fit_id, today)
    price = (
        shop.stretch_minor if told.can_stretch else shop.panel_minor if told.tier == "panel" else 0
    )
    return VerdictPage(
        told,
        customers.get(store, told.ticket.customer_id),
        _drawing(told, shop),
        tuple(
            _side(told, side, next(boot for boot in told.boots if boot.side == side))
            for side in told.sides
        ),
        price,
        price + offer.further_minor(shop, told),
        shop.rounds_included,
        tuple(consent.sentences(told.boots, told.seen)),
        _panels(told),
        _deciding(told),
        _would_change(told),
        both([(one.name, one.reasons) for one in told.assessment.sides]),
        _by_then(told, shop),
        any(boot.state in offer.WAITING for boot in told.boots),
    )


def _panels(told: Answer) -> tuple[str, ...]:
    """Where the answer is a panel: its width and depth on each side."""
    if told.tier != "panel":
        return ()
    sides = [(one.name, one.verdict.panel) for one in told.assessment.sides]
    return both(
        [
            (name, [panel_words(panel, told.assessment.job.unit)] if panel else [])
            for name, panel in sides
        ]
    )


def _deciding(told: Answer) -> tuple[str, ...]:
    """The numbers that decided against stretching; all of them stand behind one tap."""
    assessed = told.assessment
    return both(
        [
            (one.name, deciding(assessed.job, one.side, one.case, one.verdict))
            for one in assessed.sides
        ]
    )


def _would_change(told: Answer) -> tuple[str, ...]:
    """What would change it; a panel is the last resort in it, and no change where it is the answer
    itself.
    """
    sides = told.assessment.sides
    is_answer = told.tier == "panel"
    return both(
        [
            (
                one.name,
                one.would_change[:-1] if is_answer and one.verdict.panel else one.would_change,
            )
            for one in sides
        ]
    )


def both(said: Sequence[tuple[str, Sequence[str]]]) -> tuple[str, ...]:
    """Each side's sentences under its name, in their order; what both say alike is said once."""
    sides: dict[str, list[str]] = {}
    for name, sentences in said:
        for sentence in sentences:
            sides.setdefault(sentence, []).append(name)
    alone = len(said) == 1
    return tuple(
        (
            f"{sentence[:1].upper()}{sentence[1:]}."
            if alone
            else f"{'Both' if len(names) > 1 else names[0].capitalize()}: {sentence}."
        )
        for sentence, names in sides.items()
    )


def _by_then(told: Answer, shop: Shop) -> str:
    """What can be had by the day she needs them, where that is before the promised one."""
    if told.ticket.needed_by is None or told.days.promise is None or not told.can_stretch:
        return ""
    needed = date.fromisoformat(told.ticket.needed_by)
    if told.days.promise <= needed:
        return ""
    rounds = sum(finished(shop, day) <= needed for day in told.days.reads)
    if not rounds:
        return "No go on the tree is done by then."
    shares = [
        side["reach_mm"][min(rounds, len(side["reach_mm"])) - 1] / side["worst"]["need_mm"]
        for side in told.result.values()
        if _short(side)
    ]
    tenths = min(9, int(min(shares, default=1.0) * 10))
    return f"By then {goes(rounds)} on the tree: about {tenths} tenths of it."


def _short(side: Any) -> bool:
    return (
        isinstance(side, dict)
        and bool(side.get("reach_mm"))
        and side["worst"]["need_mm"] > TOLERANCE_MM
    )


def _drawing(told: Answer, shop: Shop) -> Drawing:
    profiles: dict[str, BootProfile | None] = {"left": None, "right": None}
    for boot in told.boots:
        side = str(boot.side)
        if side in told.sides:
            result = told.result[side]
            profiles[side] = profile(map(_place, result["heights"]), _place(result["worst"]), boot)
    return profile_drawing(
        profiles["left"],
        profiles["right"],
        unit="in" if told.fit.unit == "in" else "cm",
        marks=shop.heights_mm,
    )


def _place(one: dict[str, Any]) -> Place:
    return Place(one["height_mm"], one.get("inside_mm"), one["need_mm"])


def _side(told: Answer, side: str, boot: Item) -> SidePage:
    result = told.result[side]
    worst = result["worst"]["height_mm"]
    read = {
        round(mm, 3) for mm in _read_heights(told, side) if mm == worst or abs(mm - worst) > NEAR_MM
    } | {round(worst, 3)}
    rows = [one for one in result["heights"] if round(one["height_mm"], 3) in read]
    bars = _bars(result["rounds"]) if result["likely"] is not None else []
    return SidePage(
        side,
        result["tier"],
        result["worst"],
        tuple(reversed(rows)),
        tuple(bars),
        tuple(_figures(told, side, result)),
        tuple(result["reach_mm"] or ()),
    )


def _read_heights(told: Answer, side: str) -> list[float]:
    own = next(one for one in told.assessment.sides if one.name == side)
    asked = [one.height for one in (*own.side.gaps, *own.side.amounts)]
    return [
        height.float_mm
        for height in (*asked, *(one.height for one in (*own.side.shaft, *own.side.leg)))
    ]


def _bars(rounds: dict[str, float]) -> list[Bar]:
    """Of a hundred boots, by rounds; the last line takes what is left, so that they add up to a
    hundred.
    """
    shown = [(key, share) for key, share in rounds.items() if key != "more" and share >= 0.005]
    most = max(rounds.values())
    bars = [
        Bar(
            "no go" if key == "0" else f"{key} go" + ("es" if key != "1" else ""),
            round(share * 100),
            share == most,
        )
        for key, share in shown
    ]
    rest = 100 - sum(bar.of_100 for bar in bars)
    return [*bars, Bar("more than 6", rest, rounds["more"] == most)] if rest > 0 else bars


def _figures(told: Answer, side: str, result: dict[str, Any]) -> list[Figure]:
    """The numbers behind the answer, each with the word that says how far it can be trusted."""
    limits = result["limits"]
    case = next(one.case for one in told.assessment.sides if one.name == side)
    by_the_book = (case.leather, case.factors) == (case.boot.leather, HANDBOOK.factors)
    own = "shop's choice" if by_the_book else OWN_FIGURES
    found = [
        Figure("Usual for this leather", f"{limits['routine'] * 100:.1f} %", own),
        Figure("Most in one go", f"{limits['round'] * 100:.1f} %", own),
        Figure("Most on the tree, ever", f"{limits['ceiling'] * 100:.1f} %", own),
        Figure(
            "Stretch asked for, of the leather there",
            f"{result['worst']['strain_total'] * 100:.1f} %",
            "read here",
        ),
    ]
    if result["kept"]:
        kept = result["kept"]
        source = f"{kept['boots']} of the shop's boots" if kept["boots"] else own
        found.append(
            Figure(
                "Keeps of an opening, after a day", f"{kept['mean']:.2f} ± {kept['sd']:.2f}", source
            )
        )
    found.append(Figure("Time on the tree, a go", f"{told.fit.hold_h} h", "common practice"))
    found.append(
        Figure(
            "Doubt of the shortfall", f"± {result['worst']['need_u_mm']:.1f} mm", "shop's choice"
        )
    )
    return found
