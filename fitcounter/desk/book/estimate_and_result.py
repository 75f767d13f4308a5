"""The owner's book: estimates beside results, what each leather keeps, and what the shop has
learnt from it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.aftercare import follow_ups as aftercare_follow_ups
from fitcounter.desk.assessment import learnt_from_own_boots, limits
from fitcounter.desk.book import estimate_charts
from fitcounter.desk.book.learnt_lines import LearntLine, learnt_lines
from fitcounter.desk.common.leather_presets import LEATHERS
from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.kept_fraction import MeasuredRound
from fitcounter.fit.handbook.rounds import CASES_TO_TELL
from fitcounter.store import outcomes
from fitcounter.store.database import Store, utc_text, utc_time

GUARANTEE_AHEAD_DAYS = 60
FOLLOW_UPS_AHEAD_DAYS = 14
TREE_DAYS = 90
# Around a mean: 1.28 standard deviations hold eight of ten boots (the normal distribution).
EIGHT_IN_TEN_SD = 1.2816
LEARNT_BOOTS = 10


class LeatherLine(NamedTuple):
    """What a leather keeps of an opening after a day: the table's guess, the shop's mean with the
    range of eight in ten boots.

    boots: the shop's own with a counted rested reading. prepared: rounds dry and conditioned, with
    their mean kept share.
    """

    code: str
    name: str
    table: float
    mean: float
    low: float
    high: float
    boots: int
    prepared: tuple[tuple[str, int, float], ...]
    holds: tuple[tuple[str, int, float], ...]

    @property
    def learnt(self) -> bool:
        """Enough of the shop's own boots to speak for themselves."""
        return self.boots >= LEARNT_BOOTS


class Took(NamedTuple):
    """Boots by how the number of rounds came out: fewer, as estimated, more; and the promised days
    that were kept.
    """

    boots: int
    fewer: int
    as_said: int
    more: int
    within_promise: int
    promised: int
    days_early: float
    first_go: int
    stopped: int = 0
    declined: int = 0
    unfinished: int = 0


class ResultRow(NamedTuple):
    """The boots of one estimate. boots: by the rounds they took, 1 to 4 (and more); stopped,
    declined, unfinished: after a round at least.
    """

    estimate: int
    boots: tuple[int, ...]
    stopped: int
    declined: int
    unfinished: int


class BookPage(NamedTuple):
    """All that the book shows. results: estimate and result as a table. newest: only so many of the
    shop's items are in it, None where it holds them all.
    """

    leathers: list[LeatherLine]
    took: Took
    comebacks: list[outcomes.ComebackRow]
    handed_over: int
    trees: dict[str, float]
    guarantees: list[dict[str, object]]
    follow_ups: list[aftercare_follow_ups.FollowUpLine]
    grid: estimate_charts.Grid
    days: estimate_charts.Bars
    tree_bars: estimate_charts.Bars
    results: tuple[ResultRow, ...]
    learnt: list[LearntLine]
    newest: int | None

    @property
    def needed(self) -> int:
        """Cases before what the boots teach is told."""
        return CASES_TO_TELL

    @property
    def why(self) -> list[tuple[str, int]]:
        """Why boots came back, the most frequent reason first."""
        return Counter(one.answer for one in self.comebacks).most_common()


def look(store: Store, shop: Shop, now: datetime) -> BookPage:
    """Everything the book shows, of the newest items: it opens as fast however old the shop is."""
    today = shop.today(now)
    first_id = outcomes.newest_items_from(store)
    said = outcomes.said_and_took(store, first_id)
    used = outcomes.tree_days(store, utc_text(now - timedelta(days=TREE_DAYS)))
    return BookPage(
        leathers=leather_lines(store),
        took=took(said, shop),
        comebacks=outcomes.comebacks(store, first_id),
        handed_over=outcomes.handed_over(store, first_id),
        trees=used,
        guarantees=outcomes.guarantees_ending(
            store, today.isoformat(), (today + timedelta(days=GUARANTEE_AHEAD_DAYS)).isoformat()
        ),
        follow_ups=aftercare_follow_ups.due_by(
            store, today + timedelta(days=FOLLOW_UPS_AHEAD_DAYS)
        ),
        grid=estimate_charts.grid((one.likely or 0, one.rounds) for one in _finished(said)),
        days=estimate_charts.days(
            [days_early(one, shop) for one in _finished(said) if one.promise_day and one.shelved_at]
        ),
        tree_bars=estimate_charts.trees(used, TREE_DAYS),
        results=results(said),
        learnt=learnt_lines(store, shop),
        newest=outcomes.NEWEST_ITEMS if first_id > 1 else None,
    )


def _finished(said: Sequence[outcomes.EstimateAndResult]) -> list[outcomes.EstimateAndResult]:
    return [one for one in said if one.outcome == "finished"]


def results(said: Sequence[outcomes.EstimateAndResult]) -> tuple[ResultRow, ...]:
    """Boots by their estimate: those that were finished by the rounds they took, the others by what
    became of them.
    """
    counts = Counter(
        (
            min(one.likely or 0, estimate_charts.MOST_ROUNDS),
            min(one.rounds, estimate_charts.MOST_ROUNDS)
            if one.outcome == "finished"
            else one.outcome,
        )
        for one in said
    )
    return tuple(
        ResultRow(
            estimate,
            tuple(counts[estimate, took] for took in range(estimate_charts.MOST_ROUNDS + 1)),
            counts[estimate, "stopped"],
            counts[estimate, "declined"],
            counts[estimate, "unfinished"],
        )
        for estimate in sorted({estimate for estimate, _ in counts})
    )


def leather_lines(store: Store) -> list[LeatherLine]:
    """One line a leather that the shop has read boots of, most boots first."""
    lines, own = [], limits.of_shop(store)
    for code, learnt in learnt_from_own_boots.classes(store, own).items():
        kept, rounds = learnt.kept, [turn for boot in learnt.rounds for turn in boot]
        spread = EIGHT_IN_TEN_SD * kept.sd
        lines.append(
            LeatherLine(
                code,
                say(LEATHERS.get(code, code)),
                learnt_from_own_boots.table_kept(own, code),
                kept.mean,
                max(0.0, kept.mean - spread),
                min(1.0, kept.mean + spread),
                kept.boots,
                tuple(_by(rounds, _prepared_words)),
                tuple(_by(rounds, _hold_words)),
            )
        )
    return sorted(lines, key=lambda line: (-line.boots, line.name))


def took(said: Sequence[outcomes.EstimateAndResult], shop: Shop) -> Took:
    """Counts over finished boots, and how many were not; days compare the shelf with the promised
    day.
    """
    finished, became = _finished(said), Counter(one.outcome for one in said)
    differences = [one.rounds - (one.likely or 0) for one in finished]
    early = [days_early(one, shop) for one in finished if one.promise_day and one.shelved_at]
    return Took(
        boots=len(finished),
        fewer=sum(one < 0 for one in differences),
        as_said=sum(one == 0 for one in differences),
        more=sum(one > 0 for one in differences),
        within_promise=sum(one >= 0 for one in early),
        promised=len(early),
        days_early=sum(early) / len(early) if early else 0.0,
        first_go=sum(one.rounds == 1 for one in finished),
        stopped=became["stopped"],
        declined=became["declined"],
        unfinished=became["unfinished"],
    )


def _by(
    rounds: Iterable[MeasuredRound], word: Callable[[MeasuredRound], str]
) -> list[tuple[str, int, float]]:
    """Rounds that give a kept share, grouped by a word: how many, and their mean share."""
    shares: dict[str, list[float]] = {}
    for one in rounds:
        if one.kept is not None:
            shares.setdefault(word(one), []).append(one.kept)
    return [(name, len(kept), sum(kept) / len(kept)) for name, kept in sorted(shares.items())]


def _prepared_words(one: MeasuredRound) -> str:
    return say("Dry") if one.dry else say("Conditioned")


def _hold_words(one: MeasuredRound) -> str:
    if one.hold_h <= 48:
        return say("Up to two days on the tree")
    if one.hold_h <= 96:
        return say("Up to four days on the tree")
    return say("A week on the tree")


def days_early(one: outcomes.EstimateAndResult, shop: Shop) -> int:
    """By how many days it was on the shelf before its promised day."""
    shelved = shop.local(utc_time(one.shelved_at or "")).date()
    return (date.fromisoformat(one.promise_day or "") - shelved).days
