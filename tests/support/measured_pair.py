"""A measured pair as rows, for tests that begin with the answer."""

from __future__ import annotations

from fitcounter.desk import shop
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Who
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.measuring.sheet import Row, Sheet, cell_name
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

HEIGHTS = ("10 1/2", "12 1/2", "14 1/2")
GAPS = ("3/8", "5/8", "1/2")
BOOT = ("12 7/8", "13 5/8", "14")
LEG = ("13 1/4", "14 1/4", "14 1/8")
USUAL = {"material": "supple-full-grain", "closure": "zip", "lining": "leather"}


def take_in(store: Store, act: Act, **changes: object) -> int:
    """The fit of a new pair."""
    told: dict[str, object] = {"sides": ("left", "right"), **USUAL, **changes}
    written = new_job.open_ticket(
        store, act, shop.read(store), NewJob(Who("Marisol Okafor-Lind"), Boots(**told))
    )  # type: ignore[arg-type]
    assert written.row_id is not None
    return written.row_id


def cells(sides: tuple[str, ...] = ("left", "right"), **kinds: tuple[str, ...]) -> dict[str, str]:
    """gap=("3/8", …): the same column of readings on both sides, lowest first."""
    return {
        cell_name(what, side, row): text
        for what, texts in kinds.items()
        for side in sides
        for row, text in enumerate(texts)
    }


def sheet_of(
    target: str, typed: dict[str, str], unit: str = "in", heights: tuple[str, ...] = HEIGHTS
) -> Sheet:
    rows = tuple(
        Row(height, station)
        for height, station in zip(heights, ("rise", "calf", "below-knee", "", ""), strict=False)
    )
    return Sheet(unit, target, rows, typed)


def save_gap(store: Store, act: Act, fit_id: int) -> None:
    measuring_save.save(
        store, act, fit_id, sheet_of("gap", cells(gap=GAPS, boot=BOOT)), Terms(), None
    )


def measured_pair(store: Store, act: Act, **changes: object) -> tuple[int, int]:
    """A pair measured by the gap: its ticket and its fit."""
    fit_id = take_in(store, act, **changes)
    save_gap(store, act, fit_id)
    ticket_id = int(store.value("SELECT ticket_id FROM fits WHERE id = ?", fit_id))
    return tickets.get(store, ticket_id).id, fit_id
