"""A file of `fitcounter export` is read in flat memory, whatever the order of its parts."""

from __future__ import annotations

import json
import tracemalloc
from pathlib import Path
from typing import Any

import pytest

from fitcounter import how_far
from fitcounter.desk.data import shop_file
from fitcounter.desk.data.whole_shop import KIND
from fitcounter.errors import BadInput, NotFound

MB = 1_000_000
TOLD: dict[str, Any] = {
    "kind": KIND,
    "made_at": "2026-03-17T14:00:00Z",
    "tables": {
        "items": {"columns": ["id", "name"], "rows": [[1, "a"], [2, None]]},
        "trees": {"columns": ["id"], "rows": []},
    },
    "files": {"photos/p.jpg": "AAEC"},
    "content_hash": "f00d",
}


def written(folder: Path, told: object) -> Path:
    path = folder / "shop.json"
    path.write_text(json.dumps(told), encoding="utf-8")
    return path


@pytest.mark.parametrize("first", [*TOLD, "another"])
def test_its_parts_may_come_in_any_order(tmp_path: Path, first: str) -> None:
    """Older programs wrote the hash before the tables."""
    source = written(tmp_path, {first: TOLD.get(first, {"x": [1]}), **TOLD})
    (tmp_path / "aside").mkdir()
    found = shop_file.look(source, tmp_path / "aside")
    assert (found.content_hash, found.rows) == ("f00d", {"items": 2, "trees": 0})
    assert found.pictures == {"photos/p.jpg"}
    assert (tmp_path / "aside" / "photos" / "p.jpg").read_bytes() == b"\0\1\2"
    tables = [(one.name, one.columns, list(one.rows)) for one in shop_file.tables(source)]
    assert tables == [("items", ["id", "name"], [[1, "a"], [2, None]]), ("trees", ["id"], [])]


@pytest.mark.parametrize("part", ["kind", "tables", "files", "content_hash"])
def test_a_file_without_one_of_its_parts_is_none(tmp_path: Path, part: str) -> None:
    source = written(tmp_path, {name: value for name, value in TOLD.items() if name != part})
    with pytest.raises(BadInput, match="That is not a file of"):
        shop_file.look(source, tmp_path)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_file_that_was_cut_is_one_sentence(tmp_path: Path, share: float) -> None:
    source = written(tmp_path, TOLD)
    text = source.read_text(encoding="utf-8")
    source.write_text(text[: int(len(text) * share)], encoding="utf-8")
    with pytest.raises(BadInput, match="That is not a file of"):
        shop_file.look(source, tmp_path)


def test_what_cannot_be_opened_is_said(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match=r"shop\.json cannot be read"):
        shop_file.look(tmp_path / "shop.json", tmp_path)


def test_no_more_of_it_is_held_than_a_piece_and_how_far_it_is_is_told(tmp_path: Path) -> None:
    rows = [[n, f"{n:05}" * 40] for n in range(20_000)]
    source = written(tmp_path, TOLD | {"tables": {"items": {"columns": ["id"], "rows": rows}}})
    told: list[float] = []
    tracemalloc.start()
    try:
        with how_far.told_to(lambda what, done, of: told.append(done / of)):
            assert shop_file.look(source, tmp_path).rows == {"items": 20_000}
        (table,) = [(one, sum(1 for _ in one.rows)) for one in shop_file.tables(source)]
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert table[1] == 20_000
    assert source.stat().st_size > 4 * MB
    assert peak < MB
    assert told == sorted(told)
    assert told[0] < 0.1
    assert told[-1] == 1
