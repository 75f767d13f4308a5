"""What the shop has learnt beside the kept fraction: the tape's own error, return after resting,
the first try-on against what was told, how each wear felt. Each with its number and interval.
"""

from __future__ import annotations

from statistics import fmean
from typing import NamedTuple

from babel.numbers import format_decimal, format_percent

from fitcounter.desk.common.leather_presets import LEATHERS
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment import learnt_figures
from fitcounter.fit.assessment.learnt_figures import ShopFigure
from fitcounter.fit.handbook.leg import BOOT_READING_MM, MM_PER_INCH
from fitcounter.store import learnt
from fitcounter.store.database import Store


class LearntLine(NamedTuple):
    """One thing learnt. number: cases; value, interval: in words, '' before there are enough;
    beside: what it stands against.
    """

    name: str
    number: int
    value: str
    interval: str
    beside: str


def learnt_lines(store: Store, shop: Shop) -> list[LearntLine]:
    """Every line of it, with cases or without; of single leathers only what has enough."""
    tape, back = learnt.read_twice_mm(store), learnt.since_rested_mm(store)
    return [
        _of_length(
            say("One reading of the tape is off by"),
            learnt_figures.tape_error_mm(tape),
            len(tape),
            shop.unit,
            say("reckoned with: {length}", length=_length(BOOT_READING_MM, shop.unit)),
        ),
        _of_length(
            say("Change from the last rested reading to pickup"),
            learnt_figures.mean_change_mm(back),
            len(back),
            shop.unit,
            say("reckoned with: none"),
        ),
        _closed(learnt.first_try_ons(store)),
        *(_wear(times) for times in learnt.worn_times(store)),
        *(line for line in map(_felt, learnt.felt_after_wears(store)) if line.value),
    ]


def _of_length(
    name: str, found: ShopFigure | None, number: int, unit: str, beside: str
) -> LearntLine:
    if found is None or not found.counts:
        return LearntLine(name, number, "", "", beside)
    return LearntLine(
        name,
        number,
        _length(found.value, unit),
        say("{low} to {high}", low=_length(found.low, unit), high=_length(found.high, unit)),
        beside,
    )


def _closed(tried: list[learnt.FirstTryOn]) -> LearntLine:
    """Boots that closed at the first try-on, beside the mean of what was told of them."""
    told = [one.fits for one in tried if one.fits is not None]
    beside = say("told: {share}", share=_share(fmean(told))) if told else ""
    name = say("Closed at the first try-on")
    return _of_share(name, sum(one.closed for one in tried), len(tried), beside)


def _wear(times: learnt.WornTimes) -> LearntLine:
    name = say("Wear {number}: nothing felt wrong", number=times.n)
    return _of_share(name, times.worn - times.not_right, times.worn, "")


def _felt(one: learnt.FeltAfter) -> LearntLine:
    name = say(
        "{leather}, rounds: {rounds}, wear {number}: felt good",
        leather=say(LEATHERS[one.material]),
        rounds=one.rounds,
        number=one.n,
    )
    return _of_share(name, one.good, one.told, "")


def _of_share(name: str, hits: int, number: int, beside: str) -> LearntLine:
    found = learnt_figures.share(hits, number)
    if found is None or not found.counts:
        return LearntLine(name, number, "", "", beside)
    between = say("{low} to {high}", low=_share(found.low), high=_share(found.high))
    return LearntLine(name, number, _share(found.value), between, beside)


def _share(value: float) -> str:
    return str(format_percent(value, locale=spoken().locale))


def _length(mm: float, unit: str) -> str:
    """Finer than the tape's marks, so that what is under a sixteenth is seen."""
    locale = spoken().locale
    if unit == "in":
        inches = format_decimal(mm / float(MM_PER_INCH), format="0.00", locale=locale)
        return say("{number} in", number=inches)
    return say("{number} mm", number=format_decimal(mm, format="0.0", locale=locale))
