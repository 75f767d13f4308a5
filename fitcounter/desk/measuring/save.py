"""Measuring: a sheet of readings is kept whole or not at all; what cannot be read is said cell by
cell.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import Any

from fitcounter.desk.assessment.job import build_job, untouched
from fitcounter.desk.assessment.readings import ExactReading
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import marked, say, told
from fitcounter.desk.measuring.how_it_was_read import Terms, columns_of
from fitcounter.desk.measuring.reading_rows import (
    PairAsStored,
    by_height,
    exact_of,
    rows_of,
    write_rows,
)
from fitcounter.desk.measuring.sheet import READS, Cell, Sheet, cell_name, read_sheet
from fitcounter.errors import BadInput, BadReading, Conflict, FitCounterError
from fitcounter.fit.assessment.assess import can_be_answered
from fitcounter.fit.assessment.job_checks import check_job
from fitcounter.fit.assessment.read_span import BootReadTooLow
from fitcounter.store import customers, fits, readings
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Fit, Item

_PATH = re.compile(
    r"(left|right)\.(leg|boot|gaps|amounts)\[(\d+)\](?:\.(height|girth|gap|amount)(?:\[(\d+)\])?)?"
)
_KINDS = {"leg": "leg", "boot": "boot", "gaps": "gap", "amounts": "amount"}
_MISSING = {
    "leg": marked("Measure this leg at one height at least."),
    "boot": marked("Measure this boot at one height at least: we need its size."),
    "gap": marked("Measure this gap at one height at least. Type 0 where it closes."),
    "amount": marked("Type how much bigger this boot must be, at one height at least."),
}


def save(
    store: Store,
    act: Act,
    fit_id: int,
    sheet: Sheet,
    terms: Terms,
    version: int | None,
    seen: PairAsStored | None = None,
) -> Written:
    """Keeps a sheet in place of the readings of the same kinds that were there; a side without any
    stays unmeasured.

    seen: the fit, its boots and its readings as they stood a moment ago; not asked for again while
    the fit has its version, which every save moves.
    Raises BadInput or BadFields (at cells and terms), Conflict (somebody else saved meanwhile);
    nothing is stored then.
    """
    cells = read_sheet(sheet)
    _complete(sheet, cells)
    columns = columns_of(terms, sheet.unit, sheet.target)

    def write() -> Written:
        fit = fits.get(store, fit_id)
        if version is not None and version != fit.version:
            raise Conflict(
                say("Someone changed this while you were typing. Check it before you save yours.")
            )
        customers.not_erased(store, fit.ticket_id)
        pair = seen if seen is not None and seen[0] == fit else _as_stored(store, fit)
        _, boots, stored = pair
        in_order = by_height(cells)
        read = rows_of(act, pair, target=sheet.target, method=terms.method, cells=in_order)
        said = _changed(fit, columns.of_fit)
        of_boot = {boot.id: _changed(boot, columns.of_boot(str(boot.side))) for boot in boots}
        read_ones = [_with(boot, of_boot[boot.id]) for boot in boots if read.boots[boot.id]]
        exact = exact_of(boots, sheet.target, in_order, stored)
        _has_an_answer(store, fit._replace(**said), read_ones, exact, sheet, cells)
        store.change("fits", fit.id, fit.version, **said)
        for item_id, changed in of_boot.items():
            if changed:
                store.change("items", item_id, None, **changed)
        write_rows(store, fit, boots, sheet.target, read)
        return Written(
            fit.ticket_id,
            row_id=fit.id,
            detail={"fit": fit.id, "target": sheet.target, "readings": len(cells)},
        )

    return store.once(act, "measured", write)


def _as_stored(store: Store, fit: Fit) -> PairAsStored:
    boots = fits.boots(store, fit.id)
    return fit, boots, readings.brought_in(store, fit.id, [boot.id for boot in boots])


def _changed(row: Fit | Item, columns: Mapping[str, Any]) -> dict[str, Any]:
    """The columns that are others than the row's: none of most."""
    return {name: value for name, value in columns.items() if getattr(row, name) != value}


def _with(boot: Item, changed: Mapping[str, Any]) -> Item:
    return replace(boot, **changed) if changed else boot


def _complete(sheet: Sheet, cells: Sequence[Cell]) -> None:
    """Each side that has any reading has one of each kind."""
    kinds = READS[sheet.target]
    if not cells:
        name = cell_name(kinds[0], sheet.sides[0], 0)
        raise BadInput(say("No readings yet. Type them for one height at least."), field=name)
    found = {(cell.side, cell.what) for cell in cells}
    sides = {side for side, _ in found}
    problems = Problems()
    for side, what in product(sorted(sides), kinds):
        if (side, what) not in found:
            problems.add(cell_name(what, side, 0), say(_MISSING[what]))
    problems.raise_any()


def _has_an_answer(
    store: Store,
    fit: Fit,
    boots: Sequence[Item],
    read: Sequence[ExactReading],
    sheet: Sheet,
    cells: Sequence[Cell],
) -> None:
    """Nothing is kept that has no answer; the answer itself is reckoned by the page that shows it,
    so that saving is quick. What was seen on the boots and done to them changes an answer, not
    whether there is one.
    """
    if sheet.target == "safe":
        return
    try:
        job = build_job(store, fit, boots, records={}, read=read, pair=untouched(boots))
        check_job(job)
        can_be_answered(job)
    except BootReadTooLow as error:
        raise _too_low(error, cells) from error
    except (BadReading, BadInput) as error:
        raise _at_its_cell(error, cells, sheet) from error


_TOO_LOW = {
    "leg": marked(
        "The leg is measured up to {height}, this boot only to {highest}. Measure the boot at"
        " {height} too, or tick that it ends below that."
    ),
    "gap": marked(
        "The gap is measured up to {height}, this boot only to {highest}. Measure the boot at"
        " {height} too, or tick that it ends below that."
    ),
    "amount": marked(
        "You typed how much bigger up to {height}, the boot is measured only to {highest}. Measure"
        " the boot at {height} too, or tick that it ends below that."
    ),
}


def _too_low(error: BootReadTooLow, cells: Sequence[Cell]) -> BadInput:
    """A boot that was not measured far enough up, as an error of the cell where it could be."""
    at = max((cell for cell in cells if cell.side == error.side), key=lambda cell: cell.height.um)
    sentence = say(
        _TOO_LOW[error.target],
        height=say_length(at.height.mm, at.height.unit),
        highest=say_length(error.highest_mm, at.height.unit),
    )
    return BadInput(sentence, field=cell_name("boot", error.side, at.row))


def _at_its_cell(error: FitCounterError, cells: Sequence[Cell], sheet: Sheet) -> FitCounterError:
    """An error that names a path of the job, as an error of the cell where it was typed."""
    path = error.field or ""
    sentence = told(error.sentence).removeprefix(f"{path}: ")
    sentence = sentence[:1].upper() + sentence[1:]
    found = _PATH.match(path)
    heights = sorted(
        {
            cell.height.um
            for cell in cells
            if found and cell.side == found[1] and cell.what == _KINDS[found[2]]
        }
    )
    if found is None or int(found[3]) >= len(heights):
        side = path.partition(".")[0]
        first = next(cell for cell in cells if side not in sheet.sides or cell.side == side)
        return BadInput(sentence, field=cell_name(first.what, first.side, first.row))
    row = next(cell.row for cell in cells if cell.height.um == heights[int(found[3])])
    name = (
        f"height_{row}"
        if found[4] == "height"
        else cell_name(_KINDS[found[2]], found[1], row, int(found[5] or 0) + 1)
    )
    return BadInput(sentence, field=name)
