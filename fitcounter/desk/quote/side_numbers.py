"""Every number of one boot on the page of the answer: its heights, its bar of rounds, and the
figures behind the answer, each with its source word.
"""

from __future__ import annotations

from itertools import accumulate, pairwise
from typing import NamedTuple

from fitcounter.desk.assessment.limits import OWN_FIGURES
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import say, say_n, spoken
from fitcounter.desk.quote.verdict import Answer
from fitcounter.fit.assessment.assess import SideAnswer
from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job import Side
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.handbook.rounds import MOST_ROUNDS

# A height that was read so near the tightest place is not told apart from it in the table.
NEAR_MM = 4.0
LEAST_SHOWN = 0.005  # a share of boots that rounds to none of a hundred has no bar


class RoundsBar(NamedTuple):
    """One line of the bar of rounds: how many of a hundred such boots."""

    words: str
    of_100: int
    most: bool


class SourcedFigure(NamedTuple):
    """A number, its value in words and its source word."""

    name: str
    value: str
    source: str


class SidePage(NamedTuple):
    """One boot: its tightest place, its table of heights from the top down, its bar, its figures.

    legs_read: a leg was read at one of the heights; reach_mm: growth after 1 … so many rounds.
    """

    side: str
    tier: str
    worst: PlaceNow
    heights: tuple[PlaceNow, ...]
    bars: tuple[RoundsBar, ...]
    figures: tuple[SourcedFigure, ...]
    reach_mm: tuple[float, ...]

    @property
    def legs_read(self) -> bool:
        return any(place.first.leg_mm is not None for place in self.heights)


def side_page(given: Answer, side: SideAnswer) -> SidePage:
    verdict, worst_mm = side.verdict, side.verdict.worst.height_mm
    odds = verdict.course.odds if verdict.course and verdict.course.stop is None else None
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
        reach_mm_of(side),
    )


def _read_heights(side: Side) -> list[float]:
    """Every height of one side that was read or asked for, mm as read."""
    return [
        reading.height.float_mm
        for readings in (side.gaps, side.amounts, side.shaft, side.leg)
        for reading in readings
    ]


def _bars(odds: Odds) -> list[RoundsBar]:
    """Of a hundred boots, by rounds; the last line takes what is left, so that they add up to a
    hundred.
    """
    *counted, more = odds.shares
    most = max(odds.shares)
    shown = [(number, share) for number, share in enumerate(counted) if share >= LEAST_SHOWN]
    steps = [0, *(round(100 * grown) for grown in accumulate(share for _, share in shown))]
    bars = [
        RoundsBar(_rounds_words(number), after - before, share == most)
        for (number, share), (before, after) in zip(shown, pairwise(steps), strict=True)
    ]
    rest = 100 - sum(bar.of_100 for bar in bars)
    if rest <= 0:
        return bars
    return [*bars, RoundsBar(say("more than {most}", most=MOST_ROUNDS), rest, more == most)]


def _rounds_words(number: int) -> str:
    return say("no round") if number == 0 else say_n("{count} round", "{count} rounds", number)


def _figures(given: Answer, side: SideAnswer) -> list[SourcedFigure]:
    """The numbers behind the answer, each with the word that says how far it can be trusted."""
    case, verdict = side.case, side.verdict
    by_the_book = (case.leather, case.factors) == (case.boot.leather, HANDBOOK.factors)
    own = say("shop's choice") if by_the_book else say(OWN_FIGURES)
    limits, worst = verdict.limits, verdict.worst
    figures = [
        SourcedFigure(say("Usual for this leather"), _percent(limits.routine), own),
        SourcedFigure(say("Most in one round"), _percent(limits.round), own),
        SourcedFigure(say("Most this leather may ever stretch"), _percent(limits.ceiling), own),
        SourcedFigure(
            say("Stretch at the tightest place, from as first brought in"),
            _percent(worst.strain_total),
            say("measured here"),
        ),
    ]
    if verdict.course:
        kept = verdict.course.stand.kept
        source = (
            say_n("{count} of the shop’s boots", "{count} of the shop’s boots", kept.boots)
            if kept.boots
            else own
        )
        keeps = spoken().decimals(f"{kept.mean:.2f} ± {kept.sd:.2f}")
        figures.append(
            SourcedFigure(say("Share of a round that stays, after a day"), keeps, source)
        )
    within = say_length(worst.first.need_u_mm, "in" if given.fit.unit == "in" else "cm")
    return [
        *figures,
        SourcedFigure(
            say("Hours on the tree, each round"), f"{given.fit.hold_h} h", say("common practice")
        ),
        SourcedFigure(say("Measured to within"), within, say("shop's choice")),
    ]


def _percent(share: float) -> str:
    return spoken().decimals(f"{share * 100:.1f} %")


def reach_mm_of(side: SideAnswer) -> tuple[float, ...]:
    """Growth to expect after 1 … so many rounds; empty where nothing is stretched."""
    return side.verdict.course.reach_mm if side.verdict.course else ()
