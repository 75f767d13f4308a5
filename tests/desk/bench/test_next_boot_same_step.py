"""Which boot comes next for the same step."""

from __future__ import annotations

from fitcounter.desk.bench.board import Entry
from fitcounter.desk.bench.next_boot_same_step import next_due, step_of_row


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
