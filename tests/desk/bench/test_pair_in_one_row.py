"""Which boots stand in one row of a list."""

from __future__ import annotations

from datetime import timedelta

import pytest

from fitcounter.desk.bench.board import Entry
from fitcounter.desk.bench.pair_in_one_row import together


def names(found: list[Entry], **told: object) -> list[str]:
    return [
        " ".join(f"{one.row.side or one.row.kind} {one.row.number}" for one in row.entries)
        for row in together(found, **told)  # type: ignore[arg-type]
    ]


def test_left_and_right_of_a_pair_stand_in_the_row_of_the_first(entries: list[Entry]) -> None:
    assert names(entries) == ["left 41 right 41", "left 42", "bag 41"]


@pytest.mark.parametrize(
    ("change", "one_row"),
    [
        ({"at": timedelta(hours=1)}, True),
        ({"at": timedelta(hours=1, seconds=1)}, False),
        ({"at": None}, False),
        ({"tree": "4"}, False),
        ({"row": {"state": "prepared"}}, False),
        ({"row": {"shelf": "B2"}}, False),
        ({"row": {"ticket_id": 99}}, False),
    ],
)
def test_what_is_not_the_same_of_both_boots_is_said_in_two_rows(
    entries: list[Entry], change: dict[str, object], one_row: bool
) -> None:
    right, _, left, _ = entries
    at = change.get("at", timedelta())
    changed = Entry(
        left.row._replace(**change.get("row", {})),  # type: ignore[arg-type]
        left.at + at if isinstance(at, timedelta) and left.at else None,
        str(change.get("tree", "")),
    )
    rows = together([right, changed], lambda row: row.shelf)
    assert (len(rows) == 1) is one_row
    if one_row:
        assert rows[0].at == changed.at, "both are due then"
