"""The measuring sheet of a pair as it is shown: its rows of heights, what is stored in its cells,
and where to read once more.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fitcounter.desk.assessment.job import mm
from fitcounter.desk.assessment.readings import stored_length
from fitcounter.desk.measuring import questions
from fitcounter.desk.measuring.how_it_was_read import Terms, station_at
from fitcounter.desk.measuring.how_many_heights import depth_of, heights_of
from fitcounter.desk.measuring.questions import Ask
from fitcounter.desk.measuring.sheet import NO_LINES, READS, FreeLines, SheetLine, cell_name
from fitcounter.desk.shop import Shop
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.tape import MM_PER_UNIT, sixteenths_nearest, write_plain
from fitcounter.store import customers, fits, readings, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Customer, Fit, Item, LegReading, Ticket

# By what, side, height and repeat.
Texts = dict[tuple[str, str, int, int], str]


@dataclass(frozen=True, slots=True)
class MeasurePage:
    """cells: what is stored, by cell name, as typed. asks: questions about what is stored, none of
    which blocks.

    again: the cells that are asked for once more, by the name of their first reading. stored: the
    readings themselves.
    """

    fit: Fit
    boots: tuple[Item, ...]
    lines: tuple[SheetLine, ...]
    cells: dict[str, str]
    terms: Terms
    target: str
    depth: str
    asks: tuple[Ask, ...]
    again: frozenset[str]
    stored: readings.BroughtIn

    @property
    def sides(self) -> tuple[str, ...]:
        return tuple(str(boot.side) for boot in self.boots)


def look(
    store: Store,
    shop: Shop,
    fit_id: int,
    depth: str = "",
    target: str = "",
    *,
    free: FreeLines = NO_LINES,
    skipped: frozenset[int] | None = frozenset(),
) -> MeasurePage:
    """The sheet of a fit: the heights of its depth and those that were read, lowest first, then
    free ones for heights of one's own.

    depth: gap, three, whole, read, or '' for what was read, else what is usual; target: leg, gap,
    amount, safe, or '' for what it was; skipped: numbers of questions about what is stored that are
    left as they are, None to ask none, for which the whole answer is reckoned.
    Raises NotFound.
    """
    with store.one_moment():
        fit = fits.get(store, fit_id)
        boots = fits.boots(store, fit_id)
        stored = readings.brought_in(store, fit_id, [boot.id for boot in boots])
    target = target or boots[0].target
    held, marked = _held(stored, fit, boots)
    read = [boot for boot in boots if stored.boots[boot.id]]
    # Another way of saying how much begins anew.
    anew = skipped is None or target != boots[0].target
    slips = [] if anew else questions.slips(store, fit, read)
    asks, slips = questions.asked(slips, skipped or frozenset())
    is_read = any(what == READS[target][0] for what, _, _, _ in held)
    depth = depth or depth_of(target, is_read, any(slip.rough for slip in slips))
    lines, rows = _lines(stored.legs, shop, fit, depth, marked)
    lines += (SheetLine("", "", True),) * max(free.asked, free.sent - len(lines))
    cells = {
        cell_name(what, side, rows[um], repeat): text
        for (what, side, um, repeat), text in held.items()
    }
    return MeasurePage(
        fit,
        tuple(boots),
        lines,
        cells,
        _terms(fit, boots),
        target,
        depth,
        asks,
        questions.again(slips, lines, fit.unit),
        stored,
    )


def whose(store: Store, fit: Fit) -> tuple[Ticket, Customer]:
    """For the head of the page; a sheet that is only saved has none."""
    ticket = tickets.get(store, fit.ticket_id)
    return ticket, customers.get(store, ticket.customer_id)


def _lines(
    legs: Sequence[LegReading], shop: Shop, fit: Fit, depth: str, marked: Mapping[int, str]
) -> tuple[tuple[SheetLine, ...], dict[int, int]]:
    """The lines of the sheet, and the row of each height. marked: what was read at, as typed."""
    stations = {one.height_um: one.station for one in legs}
    offered = () if depth == "read" and marked else heights_of(shop.heights_mm, depth)
    heights = sorted({round(height * UM_PER_MM) for height in offered} | set(marked))
    lines = [
        SheetLine(
            _bare(marked.get(um, ""), fit.unit) or height_text(mm(um), fit.unit),
            stations.get(um) or station_at(mm(um)),
            False,
        )
        for um in heights
    ]
    return tuple(lines), {um: row for row, um in enumerate(heights)}


def _bare(text: str, unit: str) -> str:
    """A stored height without its unit where that is the sheet's own."""
    return text.removesuffix(unit).rstrip() if text.endswith(f" {unit}") else text


def height_text(height_mm: float, unit: str) -> str:
    """A height as it is typed: 12 1/2, or 31.8 in centimetres."""
    if unit == "in":
        return write_plain(sixteenths_nearest(height_mm))
    return f"{height_mm / float(MM_PER_UNIT[unit]):.1f}".removesuffix(".0")


def _held(read: readings.BroughtIn, fit: Fit, boots: list[Item]) -> tuple[Texts, dict[int, str]]:
    """All that is stored, each text with its own unit where it needs one; and the text of each
    height, by its micrometres.
    """
    found: Texts = {}
    marked: dict[int, str] = {}
    for leg in read.legs:
        text = _shown(leg.girth_text, leg.unit, leg.girth_um, fit.unit)
        found["leg", leg.side, leg.height_um, leg.repeat] = text
        marked[leg.height_um] = leg.height_text
    for boot in boots:
        side = str(boot.side)
        for one in read.boots[boot.id]:
            text = _shown(one.girth_text, one.unit, one.girth_um, fit.unit)
            found["boot", side, one.height_um, one.repeat] = text
            marked[one.height_um] = one.height_text
        for kind in ("gap", "amount"):
            for gap in read.gaps[boot.id, kind]:
                text = _shown(gap.gap_text, gap.unit, gap.gap_um, fit.unit)
                found[kind, side, gap.height_um, gap.repeat] = text
                marked[gap.height_um] = gap.height_text
    return found, marked


def _shown(text: str, unit: str, um: int, page_unit: str) -> str:
    """The text as typed; with its unit where the page's own would make another length of it."""
    return text if unit == page_unit or not um else stored_length(text, unit, um).text


def _terms(fit: Fit, boots: list[Item]) -> Terms:
    first = boots[0]

    def text(um: int | None) -> str:
        return "" if not um else f"{mm(um):g} mm"

    heels = {str(boot.side): text(boot.heel_um) for boot in boots}
    return Terms(
        posture=fit.posture,
        over=fit.over,
        layer=text(fit.layer_um),
        part_of_day=fit.part_of_day,
        marked=bool(fit.marked),
        on_block=bool(fit.on_block),
        ease=fit.ease,
        method=first.method,
        heights_from=first.heights_from,
        seat=text(first.seat_um),
        shaft=text(first.shaft_um),
        wall=text(first.wall_um),
        rise=text(first.rise_um),
        heel_left=heels.get("left", ""),
        heel_right=heels.get("right", ""),
        ends_left=any(boot.ends_below for boot in boots if boot.side == "left"),
        ends_right=any(boot.ends_below for boot in boots if boot.side == "right"),
    )
