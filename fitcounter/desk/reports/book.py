"""The owner's book: what was said against what it took, what each leather keeps, and what the shop
has learnt from it.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby

from fitcounter.desk.aftercare import aftercare
from fitcounter.desk.assessment import limits
from fitcounter.desk.assessment.job import Records
from fitcounter.desk.common.leather_presets import LEATHERS
from fitcounter.desk.reports import charts
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.kept import BootRecord, Kept, Round, boot_record, class_kept
from fitcounter.fit.assessment.materials import Own
from fitcounter.fit.handbook import leather as handbook_leather
from fitcounter.store import outcomes
from fitcounter.store.database import Store, utc_text, utc_time

GUARANTEE_AHEAD_DAYS = 60
FOLLOW_UPS_AHEAD_DAYS = 14
TREE_DAYS = 90
# Around a mean: 1.28 standard deviations hold eight of ten boots (the normal distribution).
EIGHT_IN_TEN_SD = 1.2816
LEARNT_BOOTS = 10


@dataclass(frozen=True, slots=True)
class LeatherLine:
    """What a leather keeps of an opening after a day: the table's guess, the shop's mean with the
    range of eight in ten boots.

    boots: finished ones of the shop's own. prepared: rounds dry and conditioned, with their mean
    kept share.
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


@dataclass(frozen=True, slots=True)
class Took:
    """Boots by how the number of rounds came out: fewer, as said, more; and the promised days that
    were kept.
    """

    boots: int
    fewer: int
    as_said: int
    more: int
    within_promise: int
    promised: int
    days_early: float
    first_go: int


@dataclass(frozen=True, slots=True)
class BookPage:
    leathers: list[LeatherLine]
    took: Took
    comebacks: list[outcomes.ComebackRow]
    handed_over: int
    trees: dict[str, float]
    guarantees: list[dict[str, object]]
    follow_ups: list[aftercare.Asked]
    grid: charts.Grid
    days: charts.Bars
    tree_bars: charts.Bars

    @property
    def why(self) -> list[tuple[str, int]]:
        """Why boots came back, the most frequent reason first."""
        return Counter(one.answer for one in self.comebacks).most_common()


def look(store: Store, shop: Shop, now: datetime) -> BookPage:
    """Everything the book shows."""
    today = shop.today(now)
    said = outcomes.said_and_took(store)
    used = outcomes.tree_days(store, utc_text(now - timedelta(days=TREE_DAYS)))
    return BookPage(
        leathers=leather_lines(store),
        took=took(said, shop),
        comebacks=outcomes.comebacks(store),
        handed_over=outcomes.handed_over(store),
        trees=used,
        guarantees=outcomes.guarantees_ending(
            store, today.isoformat(), (today + timedelta(days=GUARANTEE_AHEAD_DAYS)).isoformat()
        ),
        follow_ups=aftercare.follow_ups_due(store, today + timedelta(days=FOLLOW_UPS_AHEAD_DAYS)),
        grid=charts.grid((one.likely or 0, one.rounds) for one in said),
        days=charts.days(
            [_days_early(one, shop) for one in said if one.promise_day and one.shelved_at]
        ),
        tree_bars=charts.trees(used, TREE_DAYS),
    )


def records(store: Store) -> Records:
    """What the shop's finished boots say of each leather, in the form the answer takes it: mean, sd
    and number of boots.
    """
    return _records_at(store, str(store.path), outcomes.last_finish(store), limits.of_shop(store))


_KEPT: dict[tuple[str, int, Own], Records] = {}
MOST_KEPT = 4


def _records_at(store: Store, path: str, last: int, own: Own) -> Records:
    """Reckoned once for each finished boot, because every page of a boot asks for it; by several
    threads at once, perhaps.
    """
    key = (path, last, own)
    found = _KEPT.get(key)
    if found is None:
        found = {
            code: {"mean": kept.mean, "sd": kept.sd, "boots": kept.boots}
            for code, (kept, _) in _classes(store, own).items()
        }
        for oldest in tuple(_KEPT)[: max(0, len(_KEPT) + 1 - MOST_KEPT)]:
            _KEPT.pop(oldest, None)
        _KEPT[key] = found
    return found


def forget(store: Store) -> None:
    """A step was taken back, perhaps one that had finished a boot while others were finished since:
    reckoned anew when next asked.
    """
    for key in tuple(_KEPT):
        if key[0] == str(store.path):
            _KEPT.pop(key, None)


def leather_lines(store: Store) -> list[LeatherLine]:
    """One line a leather that the shop has finished boots of, most boots first."""
    lines, own = [], limits.of_shop(store)
    for code, (kept, boots) in _classes(store, own).items():
        spread = EIGHT_IN_TEN_SD * kept.sd
        rounds = [one for boot in boots for one in boot]
        lines.append(
            LeatherLine(
                code,
                LEATHERS.get(code, code),
                _table(own, code),
                kept.mean,
                max(0.0, kept.mean - spread),
                min(1.0, kept.mean + spread),
                kept.boots,
                tuple(_by(rounds, lambda one: "dry" if one.dry else "conditioned")),
                tuple(_by(rounds, _hold_words)),
            )
        )
    return sorted(lines, key=lambda line: (-line.boots, line.name))


def took(said: Sequence[outcomes.EstimateAndResult], shop: Shop) -> Took:
    """Counts over finished boots; days compare the shelf with the promised day."""
    differences = [one.rounds - (one.likely or 0) for one in said]
    early = [_days_early(one, shop) for one in said if one.promise_day and one.shelved_at]
    return Took(
        boots=len(said),
        fewer=sum(one < 0 for one in differences),
        as_said=sum(one == 0 for one in differences),
        more=sum(one > 0 for one in differences),
        within_promise=sum(one >= 0 for one in early),
        promised=len(early),
        days_early=sum(early) / len(early) if early else 0.0,
        first_go=sum(one.rounds == 1 for one in said),
    )


def as_csv(store: Store, shop: Shop) -> bytes:
    """Said against took, a boot a line, for a spreadsheet: no names; a cell that could be a formula
    gets an apostrophe.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(
        [
            "boot",
            "said on",
            "rounds said",
            "rounds eight in ten",
            "promised",
            "rounds took",
            "on the shelf",
        ]
    )
    for one in outcomes.said_and_took(store):
        said_on, shelved = (
            shop.today(utc_time(at)).isoformat() if at else ""
            for at in (one.made_at, one.shelved_at)
        )
        row = [
            one.item_id,
            said_on,
            one.likely,
            one.eight_in_ten,
            one.promise_day,
            one.rounds,
            shelved,
        ]
        writer.writerow([safe_cell(cell) for cell in row])
    return out.getvalue().encode("utf-8-sig")


def safe_cell(cell: object) -> str:
    """A cell no spreadsheet takes for a formula (OWASP, CSV injection)."""
    text = "" if cell is None else str(cell)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def _classes(store: Store, own: Own) -> dict[str, tuple[Kept, list[list[Round]]]]:
    """By leather: what it keeps by the shop's own boots, and their rounds."""
    found: dict[str, list[list[Round]]] = {}
    for _, group in groupby(outcomes.finished_rounds(store), key=lambda one: one.item_id):
        rows = list(group)
        found.setdefault(rows[0].material, []).append(
            [made for row in rows if (made := _round(row)) is not None]
        )
    classes: dict[str, tuple[Kept, list[list[Round]]]] = {}
    for code, boots in found.items():
        told: list[BootRecord] = [
            record for boot in boots if (record := boot_record(boot)) is not None
        ]
        if told and _table(own, code) > 0:
            classes[code] = (class_kept(_table(own, code), told), boots)
    return classes


def _round(row: outcomes.ReadRound) -> Round | None:
    """A stored round as the computation takes it; None where it was never read before it went
    on.
    """
    if row.before_um is None:
        return None
    one_method = row.rested_method in ("", row.method)
    opened = (
        row.on_tree_um
        if one_method and row.on_tree_um is not None and row.on_tree_um > row.before_um
        else None
    )
    rested = row.rested_um if one_method and row.rested_counts else None
    hold_h = max((utc_time(row.off_at) - utc_time(row.held_from)).total_seconds() / 3600, 1.0)
    return Round(
        row.before_um / 1000,
        None if opened is None else opened / 1000,
        None if rested is None else rested / 1000,
        row.method,
        hold_h,
        row.prepared == "dry",
    )


def _by(rounds: Iterable[Round], word: Callable[[Round], str]) -> list[tuple[str, int, float]]:
    """Rounds that give a kept share, grouped by a word: how many, and their mean share."""
    shares: dict[str, list[float]] = {}
    for one in rounds:
        if one.kept is not None:
            shares.setdefault(word(one), []).append(one.kept)
    return [(name, len(kept), sum(kept) / len(kept)) for name, kept in sorted(shares.items())]


def _hold_words(one: Round) -> str:
    return (
        "up to two days"
        if one.hold_h <= 48
        else "up to four days"
        if one.hold_h <= 96
        else "a week"
    )


def _table(own: Own, code: str) -> float:
    row = handbook_leather.LEATHERS.get(code)
    return own.row(row).kept_mean if row else 0.0


def _days_early(one: outcomes.EstimateAndResult, shop: Shop) -> int:
    shelved = shop.local(utc_time(one.shelved_at or "")).date()
    return (date.fromisoformat(one.promise_day or "") - shelved).days
