"""Which tree serves the next round of a boot: the stored trees and their readings, ranked by
`fit.trees`.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from typing import Literal, NamedTuple, cast

from fitcounter.desk.assessment.standing import Standing, standing
from fitcounter.desk.common.translation import marked, say, say_later
from fitcounter.errors import FitCounterError
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.trees.calibration import CalibrationPoint, Scale
from fitcounter.fit.trees.choice import Choice, Rejected, rank_trees
from fitcounter.fit.trees.limits import PullLimit, Wanted
from fitcounter.fit.trees.serving import Tree
from fitcounter.store import rounds, trees
from fitcounter.store.bench_records import Calibration, TreeRow
from fitcounter.store.database import Store
from fitcounter.store.records import Item

_MADE_FOR = {"left": marked("Made for left boots."), "right": marked("Made for right boots.")}
_OUT_OF_USE = {"in repair": marked("In repair."), "retired": marked("Retired.")}
SETTINGS = {
    "turns": say_later("turns"),
    "marks": say_later("wedge marks"),
    "percent": say_later("percent"),
}
_STATES: dict[str, Literal["in use", "in repair", "retired"]] = {
    "sound": "in use",
    "repair": "in repair",
    "retired": "retired",
}
_MILLI = 1000


class Ranked(NamedTuple):
    """The trees for a round. wanted_mm: inside girth wanted at at_mm, None where the boot was not
    measured.

    choices: best first. rejected: each with one sentence. ids: of trees by label.
    """

    choices: tuple[Choice, ...]
    rejected: tuple[Rejected, ...]
    at_mm: float | None
    wanted_mm: float | None

    @property
    def labels(self) -> tuple[str, ...]:
        """Labels of trees that may serve, best first."""
        return tuple(one.label for one in self.choices)


def ranked(store: Store, item: Item, unit: str, busy: frozenset[str] | None = None) -> Ranked:
    """Every tree of the shop for a boot's next round.

    busy: labels of trees taken; None looks at what is on them now.
    """
    held = trees.everyone(store)
    points = trees.all_calibration(store)
    taken = busy_now(store, item, held) if busy is None else busy
    return rank(
        standing(store, item),
        item,
        [as_tree(row, points.get(row.id, ())) for row in held],
        taken,
        unit,
    )


def rank(
    found: Standing | None, item: Item, shop_trees: Sequence[Tree], busy: frozenset[str], unit: str
) -> Ranked:
    """The same from what was read already.

    A boot without figures is served by every tree of its side, unmeasured.
    """
    wanted = wanted_of(found, item, busy, unit) if found else None
    if wanted is None:
        return _by_side(item, shop_trees, busy)
    choices, rejected = rank_trees(shop_trees, wanted)
    return Ranked(choices, rejected, wanted.at_mm, wanted.girth_mm)


def wanted_of(found: Standing, item: Item, busy: frozenset[str], unit: str) -> Wanted | None:
    """The round a tree is wanted for; None where nothing is to be gained."""
    opening = found.opening_mm(None)
    if opening is None or item.side is None:
        return None
    places = found.verdict.places
    heights = [place.height_mm for place in places]

    def leather0_mm(height_mm: float) -> float:
        at = min(max(bisect_left(heights, height_mm - 1e-6), 0), len(places) - 1)
        return places[at].first.leather_mm

    return Wanted(
        side=cast(Literal["left", "right"], item.side),
        at_mm=found.verdict.worst.height_mm,
        girth_mm=opening.girth_mm,
        boot=Profile.straight((place.height_mm, place.girth_mm) for place in places),
        first=Profile.straight((place.height_mm, place.first.girth_mm) for place in places),
        leather0_mm=leather0_mm,
        round_share=found.verdict.limits.round,
        ceiling_share=found.verdict.limits.ceiling,
        kept=opening.kept,
        need=Profile.straight((place.height_mm, place.need_mm) for place in places),
        holds=_holds(found),
        busy=busy,
        unit=unit,
    )


def _holds(found: Standing) -> tuple[PullLimit, ...]:
    """What zip and seams of a boot hold, in strain of its leather."""
    stand, band = found.stand, found.case.boot.zip
    seams = PullLimit("seam", stand.seam_strain)
    if band is None or stand.zip_strain is None:
        return (seams,)
    return PullLimit("zip", stand.zip_strain, band.strip.from_mm, band.strip.to_mm), seams


def as_tree(row: TreeRow, points: Sequence[Calibration]) -> Tree:
    """A stored tree as the computation knows it."""
    scale = scale_of(row, points)
    read = [
        CalibrationPoint(
            scale.share(one.setting_milli / _MILLI),
            one.height_um / UM_PER_MM,
            one.girth_um / UM_PER_MM,
            one.pads,
            "tape" if one.source == "bare" else "boot",
        )
        for one in points
        if scale is not None
    ]
    return Tree(
        label=row.label,
        side=cast(Literal["left", "right", "either"], row.side),
        size=cast(Literal["S", "M", "L"], row.size) if row.size else None,
        closed_mm=None if row.closed_um is None else row.closed_um / UM_PER_MM,
        open_mm=None if row.open_um is None else row.open_um / UM_PER_MM,
        scale=scale,
        points=tuple(read),
        state=_STATES[row.state],
        shift_most_mm=row.shift_most_um / UM_PER_MM,
    )


def scale_of(row: TreeRow, points: Sequence[Calibration]) -> Scale | None:
    """From closed to open as the tree counts, or as far as it was ever turned; None while neither
    is known.
    """
    ends = [
        row.closed_setting_milli,
        *([] if row.open_setting_milli is None else [row.open_setting_milli]),
    ]
    settings = [*ends, *(one.setting_milli for one in points)]
    low, high = min(settings), max(settings)
    if low == high:
        return None
    kind = cast(
        Literal["turns", "marks", "percent"],
        row.setting_word if row.setting_word in SETTINGS else "turns",
    )
    falls = row.open_setting_milli is not None and row.open_setting_milli < row.closed_setting_milli
    closed, most = (high, low) if falls else (low, high)
    return Scale(kind, closed / _MILLI, most / _MILLI)


def busy_now(store: Store, item: Item, held: Sequence[TreeRow]) -> frozenset[str]:
    """Labels of trees with another boot on them."""
    running = rounds.running(store)
    found = [(row, running.get(row.id)) for row in held]
    return frozenset(
        row.label for row, turn in found if turn is not None and turn.item_id != item.id
    )


def _by_side(item: Item, shop_trees: Sequence[Tree], busy: frozenset[str]) -> Ranked:
    choices, rejected = [], []
    for tree in shop_trees:
        if item.side and tree.side not in (item.side, "either"):
            rejected.append(Rejected(tree.label, say(_MADE_FOR[tree.side])))
        elif tree.state != "in use":
            rejected.append(Rejected(tree.label, say(_OUT_OF_USE[tree.state])))
        elif tree.label in busy:
            rejected.append(Rejected(tree.label, say("Another boot is on this tree.")))
        else:
            choices.append(Choice(tree.label, note=say("this boot was not measured")))
    return Ranked(tuple(choices), tuple(rejected), None, None)


def safely(store: Store, item: Item, unit: str) -> Ranked:
    """`ranked`, or no tree where the rows cannot be computed: a page never fails for it."""
    try:
        return ranked(store, item, unit)
    except FitCounterError:
        return Ranked((), (), None, None)
