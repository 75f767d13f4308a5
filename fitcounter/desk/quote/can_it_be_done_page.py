"""Can it be done? as the page shows it: the answer, its drawing, its price, and every number with
its source word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from fitcounter.desk.assessment.drawing import profile
from fitcounter.desk.assessment.verdict_notes import fits_sentence, note_sentences, stop_sentence
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.seen_at_intake import SIGHTS
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.common.translation import say, say_n, told
from fitcounter.desk.quote import consent, instead_of_stretching, offer
from fitcounter.desk.quote.panel_price import panel_minor
from fitcounter.desk.quote.promise_dates import finished
from fitcounter.desk.quote.side_numbers import SidePage, reach_mm_of, side_page
from fitcounter.desk.quote.verdict import Answer, answer
from fitcounter.desk.shop import Shop
from fitcounter.errors import Sentence
from fitcounter.fit.assessment import note_words
from fitcounter.fit.assessment.assess import SideAnswer
from fitcounter.fit.assessment.cheaper_answers import STRAP, panel_words
from fitcounter.fit.assessment.job import Side
from fitcounter.fit.assessment.reasons import deciding
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.fit.drawings.pair import Drawing, profile_drawing
from fitcounter.fit.handbook.leg import TOLERANCE_MM
from fitcounter.store import customers
from fitcounter.store.database import Store
from fitcounter.store.records import Customer


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictPage:
    """The answer with its drawing, sentences and price.

    panels: what a panel measures, where it is the answer; deciding: the numbers that decided; why:
    all that weighed, in order. price_minor: what is asked; ceiling_minor: not more than this
    without asking; included: rounds in the price; by_then: what can be had by the needed day; open:
    something waits to be agreed; choices: in place of stretching. notes: what is said beside the
    answer: why to stop, how sure "done" is, room and the like.
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
    choices: tuple[instead_of_stretching.InsteadWay, ...]
    notes: tuple[str, ...] = ()

    @property
    def widths(self) -> list[tuple[float, tuple[float | None, ...]]]:
        """What is let in must measure, from the top down: height and each side's width in mm, None
        where it is not short; by the gap also where the boot itself was not read.
        """
        needs = [
            _gaps(answered.side)
            | {place.height_mm: place.need_mm for place in side.heights if place.short}
            for side, answered in zip(self.sides, self.answer.assessment.sides, strict=True)
        ]
        heights = sorted({height for side in needs for height in side}, reverse=True)
        return [(height, tuple(side.get(height) for side in needs)) for height in heights]


def _gaps(side: Side) -> dict[float, float]:
    """Each gap that is more than a tape can tell, by its height."""
    gaps = ((gap.height.float_mm, gap.amount_mm) for gap in side.gaps)
    return {height: mm for height, mm in gaps if mm > TOLERANCE_MM}


def verdict_page(store: Store, shop: Shop, fit_id: int, today: date) -> VerdictPage:
    """The page of a fit as its rows stand. today: the shop's own day.

    Raises NotFound; OutOfOrder when nothing was measured yet.
    """
    given = answer(store, shop, fit_id, today)
    price_minor = _price_minor(store, given, shop)
    return VerdictPage(
        answer=given,
        customer=customers.get(store, given.ticket.customer_id),
        drawing=_drawing(given, shop),
        sides=tuple(side_page(given, side) for side in given.assessment.sides),
        price_minor=price_minor,
        ceiling_minor=price_minor + offer.further_minor(shop, given),
        included=shop.rounds_included,
        may_happen=tuple(consent.sentences(given.boots, given.seen, offer.paneled([given]))),
        panels=_panels(given),
        deciding=_deciding(given),
        would_change=_would_change(given),
        why=both([(side.name, _why(given, side)) for side in given.assessment.sides]),
        by_then=_by_then(given, shop_days.of_shop(store, shop)),
        open=any(boot.state in offer.WAITING for boot in given.boots),
        choices=instead_of_stretching.choices(store, shop, given, today),
        notes=_notes(given),
    )


def _notes(given: Answer) -> tuple[str, ...]:
    """Beside the answer: why to stop, or how sure "done" is; then room and notes of each boot."""
    sides, unit = given.assessment.sides, given.assessment.job.unit
    return (
        *_each([(side.name, [stop_sentence(side.verdict)]) for side in sides]),
        *([_fits(given)] if given.sentence and _fits(given) else []),
        *_each([(side.name, note_sentences(side.side, side.verdict, unit)) for side in sides]),
    )


def _fits(given: Answer) -> str:
    """Of the boot that is least sure to fit when it is called done; '' where nothing is said."""
    said = [
        (side.verdict.course.odds.fits, sentence)
        for side in given.assessment.sides
        if side.verdict.course and (sentence := fits_sentence(side.verdict))
    ]
    return min(said, default=(1.0, ""))[1]


def _each(by_side: Sequence[tuple[str, Sequence[str]]]) -> list[str]:
    """Whole sentences: those of every boot as they are, those of one of two under its name."""
    sides: dict[str, list[str]] = {}
    for name, sentences in by_side:
        for sentence in filter(None, sentences):
            sides.setdefault(sentence, []).append(name)
    return [
        sentence if len(names) == len(by_side) else _named(names[0], _small(sentence))
        for sentence, names in sides.items()
    ]


def _named(name: str, sentence: str) -> str:
    """The sentence under the name of its boot. sentence: without its stop."""
    if name == "left":
        return say("Left: {sentence}.", sentence=sentence)
    return say("Right: {sentence}.", sentence=sentence)


def _small(sentence: str) -> str:
    """A whole sentence as it follows a name: without its capital and stop."""
    return f"{sentence[:1].lower()}{sentence[1:].removesuffix('.')}"


def _why(given: Answer, side: SideAnswer) -> list[str]:
    """All that weighed, without what stands beside the answer already."""
    job = given.assessment.job
    shown = set(note_words.note_sentences(job, side.side, side.verdict))
    return [sentence for sentence in side.reasons if sentence not in shown]


def _price_minor(store: Store, given: Answer, shop: Shop) -> int:
    """What is asked for the answer; 0 where nothing is done."""
    if given.can_stretch:
        return shop.stretch_minor
    return panel_minor(store, shop, given, given.instead) or 0 if given.instead else 0


def _panels(given: Answer) -> tuple[str, ...]:
    """Where the answer is a panel: its width and depth on each side."""
    if given.tier != "panel":
        return ()
    unit = given.assessment.job.unit
    return both([(side.name, _panel(side.verdict, unit)) for side in given.assessment.sides])


def _panel(verdict: Verdict, unit: str) -> list[str]:
    if verdict.panel is None:
        return []
    return [panel_words(verdict.panel, verdict.places[-1].height_mm, unit)]


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
    itself; a strap hole is one of the choices there, and none on a pull-on.
    """
    changes = []
    no_way = given.tier in ("panel", "refuse")
    no_strap = no_way or given.boots[0].closure == "pull-on"
    for side in given.assessment.sides:
        answered = no_way and side.verdict.panel is not None
        said = side.would_change[:-1] if answered else side.would_change
        changes.append((side.name, [one for one in said if not (no_strap and one == STRAP)]))
    return both(changes)


def both(by_side: Sequence[tuple[str, Sequence[str]]]) -> tuple[str, ...]:
    """Each side's sentences under its name, in their order; what both say alike stands once."""
    sides: dict[str, list[str]] = {}
    for name, sentences in by_side:
        for sentence in map(_inner, sentences):
            sides.setdefault(sentence, []).append(name)
    if len(by_side) == 1:
        return tuple(f"{sentence[:1].upper()}{sentence[1:]}." for sentence in sides)
    return tuple(
        say("Both: {sentence}.", sentence=sentence)
        if len(names) > 1
        else _named(names[0], sentence)
        for sentence, names in sides.items()
    )


def _inner(sentence: str) -> str:
    """A sentence of the computation as it stands inside another one, in the language spoken
    now.
    """
    if isinstance(sentence, Sentence) and "finding" in sentence.values:
        found = str(sentence.values["finding"])
        words = SIGHTS[found].words if found in SIGHTS else found
        return say(sentence.sentence, finding=say(words))
    text = told(sentence).removesuffix(".")
    return text[:1].lower() + text[1:]


def _by_then(given: Answer, days: ShopDays) -> str:
    """What is done by the day they are needed, where that is before the promised one."""
    if given.ticket.needed_by is None or given.days.promise is None or not given.can_stretch:
        return ""
    needed = date.fromisoformat(given.ticket.needed_by)
    if given.days.promise <= needed:
        return ""
    rounds = sum(finished(days, day) <= needed for day in given.days.reads)
    if not rounds:
        return say("cannot be ready by then")
    shares = [
        reach_mm[min(rounds, len(reach_mm)) - 1] / side.verdict.worst.need_mm
        for side in given.assessment.sides
        if (reach_mm := reach_mm_of(side)) and side.verdict.worst.need_mm > TOLERANCE_MM
    ]
    tenths = min(9, int(min(shares, default=1.0) * 10))
    return say_n(
        "by then {count} round, about {tenths} tenths of the stretch",
        "by then {count} rounds, about {tenths} tenths of the stretch",
        rounds,
        tenths=tenths,
    )


def _drawing(given: Answer, shop: Shop) -> Drawing:
    profiles = {side.name: profile(side.case, side.verdict) for side in given.assessment.sides}
    return profile_drawing(
        profiles.get("left"),
        profiles.get("right"),
        unit="in" if given.fit.unit == "in" else "cm",
        marks=shop.heights_mm,
    )
