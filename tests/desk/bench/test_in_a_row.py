"""Which boots stand in one row of a list, and which comes after which."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from support.bench_cast import bag, pair
from support.cast import Clock

from fitcounter.desk.bench.board import Entry
from fitcounter.desk.bench.in_a_row import next_due, step_of_row, together
from fitcounter.store import bench_board
from fitcounter.store.database import Act, Store


@pytest.fixture
def entries(store: Store, clock: Clock) -> list[Entry]:
    """Right and left of 41 with the left of 42 between them, and the bag of 41."""
    first, second = pair(store, Act(clock.now)), pair(store, Act(clock.now), 42)
    ids = (first.right, second.left, first.left, bag(store, first.ticket_id))
    rows = [bench_board.one(store, one) for one in ids]
    return [Entry(row, clock.now) for row in rows if row]


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
        replace(left.row, **change.get("row", {})),  # type: ignore[arg-type]
        left.at + at if isinstance(at, timedelta) and left.at else None,
        str(change.get("tree", "")),
    )
    rows = together([right, changed], lambda row: row.shelf)
    assert (len(rows) == 1) is one_row
    if one_row:
        assert rows[0].at == changed.at, "both are due then"


def test_after_one_boot_comes_its_other_boot_then_the_first_that_is_left(
    entries: list[Entry],
) -> None:
    right, stranger, left, thing = entries
    assert next_due(entries) is right
    assert next_due(entries, left.row) is right
    assert next_due(entries, left.row, right.row.id) is stranger
    assert next_due(entries, thing.row) is right
    assert next_due([left], left.row) is None


def test_what_is_decided_of_a_measured_boot_goes_on_with_measuring() -> None:
    assert step_of_row("", "another-round") == step_of_row("", "done") == "measure-again"
    assert step_of_row("", "put-on") == "put-on"
    assert step_of_row("turn-up", "put-on") == "turn-up"
    assert step_of_row("stop", "finding") == ""
