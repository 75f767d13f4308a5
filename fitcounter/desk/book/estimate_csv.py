"""Estimate and result of every boot as a table for a spreadsheet."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing
from pathlib import Path

from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.shop import Shop
from fitcounter.store import outcomes
from fitcounter.store.database import Store, utc_time

AT_ONCE = 1000
_BECAME = {
    "finished": marked("work finished"),
    "stopped": marked("stopped"),
    "declined": marked("given back undone"),
    "unfinished": marked("not finished yet"),
}
_CELL_WITHIN = re.compile(r"([;\t\r\n|]\s*\"?)(?=[=+\-@])")


def parts(store: Store, shop: Shop) -> Iterator[bytes]:
    """CSV in UTF-8 with a byte order mark, a boot a line, the newest items first; no names.

    A part at a time and by a connection of its own, so that an old shop's table begins at once, is
    never held whole, and outlives the request that asked for it.
    """
    heads = [
        say("boot"),
        say("estimated on"),
        say("rounds, estimate"),
        say("rounds, eight in ten"),
        say("promised day"),
        say("rounds, result"),
        say("ready on"),
        say("became"),
    ]
    became = {outcome: say(words) for outcome, words in _BECAME.items()}
    last_id = outcomes.newest_item(store)
    # read before anything is sent: a damaged file is still answered with its sentence
    newest = outcomes.said_and_took(store, last_id - AT_ONCE + 1, last_id)
    first = _written([heads, *(_row(row, shop, became) for row in newest)])
    return _parts(first, store.path, last_id - AT_ONCE, lambda row: _row(row, shop, became))


def _parts(
    first: str, path: Path, last_id: int, line: Callable[[outcomes.EstimateAndResult], list[object]]
) -> Iterator[bytes]:
    yield first.encode("utf-8-sig")
    if last_id <= 0:
        return
    with closing(Store(path)) as store:
        while last_id > 0:
            rows = outcomes.said_and_took(store, last_id - AT_ONCE + 1, last_id)
            if rows:
                yield _written([line(row) for row in rows]).encode()
            last_id -= AT_ONCE


def safe_cell(cell: object) -> str:
    """A cell no spreadsheet takes for a formula (OWASP, CSV injection), also one that cuts cells
    where ours has a semicolon, a tab or a new line.
    """
    text = "" if cell is None else str(cell)
    if not text or text.isalnum():  # most cells, and seen at once
        return text
    text = _CELL_WITHIN.sub(r"\1'", text)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r", "\n") else text


def _row(boot: outcomes.EstimateAndResult, shop: Shop, became: Mapping[str, str]) -> list[object]:
    estimated_on, ready_on = (
        shop.today(utc_time(at)).isoformat() if at else "" for at in (boot.made_at, boot.shelved_at)
    )
    return [
        boot.item_id,
        estimated_on,
        boot.likely,
        boot.eight_in_ten,
        boot.promise_day,
        boot.rounds,
        ready_on,
        became[boot.outcome],
    ]


def _written(rows: Sequence[Sequence[object]]) -> str:
    out = io.StringIO(newline="")
    csv.writer(out).writerows([safe_cell(cell) for cell in row] for row in rows)
    return out.getvalue()
