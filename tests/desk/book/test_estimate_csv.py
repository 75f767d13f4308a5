"""Estimate and result as a file: a part at a time, and no cell that is a formula."""

from __future__ import annotations

import pytest
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.book import estimate_csv
from fitcounter.store import outcomes
from fitcounter.store.database import Act, Store


def test_the_file_begins_before_the_whole_shop_is_read_and_holds_the_newest_first(
    store: Store, act: Act, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The heads come with as many items as are read at once, newest first; each boot once."""
    monkeypatch.setattr(estimate_csv, "AT_ONCE", 2)
    jobs = [make_job(store, act) for _ in range(3)]
    boots = [boot for job in jobs for boot in (job.left, job.right)]
    with store.write_tx():
        for boot in boots:
            side = {"tier": "stages", "likely": 2, "eight_in_ten": 3}
            outcomes.add_prediction(store, act, boot, side, None, None)
            store.db.execute("UPDATE items SET state = 'closed' WHERE id = ?", [boot])
    parts = [part.decode("utf-8-sig") for part in estimate_csv.parts(store, shop.read(store))]
    heads, _, first = parts[0].partition("\r\n")
    assert heads.startswith("boot,estimated on,")
    assert len(parts) >= 3
    written = [_ids(part) for part in (first, *parts[1:])]
    assert sorted(boot for ids in written for boot in ids) == sorted(boots)
    newest = [max(ids) for ids in written if ids]
    assert newest == sorted(newest, reverse=True)


def _ids(part: str) -> list[int]:
    return [int(line.split(",")[0]) for line in part.splitlines()]


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("-1", "'-1"),
        ("@x", "'@x"),
        ("\n=1", "'\n'=1"),
        ("a=1", "a=1"),
        ("calf;=1+1", "calf;'=1+1"),
        ('calf;"=1+1"', 'calf;"\'=1+1"'),
        ("calf; @x", "calf; '@x"),
        ("calf\t-2", "calf\t'-2"),
        ("brown; see 2-3", "brown; see 2-3"),
        (None, ""),
    ],
)
def test_no_cell_is_a_formula_however_a_spreadsheet_cuts_the_line(
    cell: object, written: str
) -> None:
    """Where lists are cut at semicolons, a formula may begin in the middle of a cell of ours."""
    assert estimate_csv.safe_cell(cell) == written
