"""The list of who was erased, beside the file: no line is lost, and half a line is none."""

from __future__ import annotations

from pathlib import Path

from fitcounter.store import erased_list
from fitcounter.store.erased_list import Erased

MARISOL = Erased(7, "2026-01-02T00:00:00Z", "2026-03-17T14:00:00Z", ("photos/a.jpg",))
TOBIAS = Erased(8, "2026-01-03T00:00:00Z", "2026-03-18T14:00:00Z", ())


def test_what_was_noted_is_read_in_order_and_the_file_is_marked_as_unswept(tmp_path: Path):
    for line in (MARISOL, TOBIAS):
        erased_list.note(tmp_path, line)
    assert erased_list.noted(tmp_path) == [MARISOL, TOBIAS]
    assert (tmp_path / erased_list.UNSWEPT).exists()


def test_nobody_but_the_shop_may_read_the_list(tmp_path: Path):
    erased_list.note(tmp_path, MARISOL)
    assert (tmp_path / erased_list.LIST).stat().st_mode & 0o077 == 0


def test_a_line_that_a_power_cut_left_half_is_no_line_and_the_next_stands_alone(tmp_path: Path):
    erased_list.note(tmp_path, MARISOL)
    with (tmp_path / erased_list.LIST).open("a", encoding="utf-8") as file:
        file.write(TOBIAS.as_line()[:12])
    assert erased_list.noted(tmp_path) == [MARISOL]
    erased_list.note(tmp_path, TOBIAS)
    assert erased_list.noted(tmp_path) == [MARISOL, TOBIAS]


def test_only_the_line_that_was_added_last_is_taken_back(tmp_path: Path):
    for line in (MARISOL, TOBIAS):
        erased_list.note(tmp_path, line)
    erased_list.take_back(tmp_path, MARISOL)
    assert erased_list.noted(tmp_path) == [MARISOL, TOBIAS]
    erased_list.take_back(tmp_path, TOBIAS)
    assert erased_list.noted(tmp_path) == [MARISOL]


def test_joining_two_lists_adds_what_is_missing_once(tmp_path: Path):
    old, new = tmp_path / "old", tmp_path / "new"
    for folder, lines in ((old, (MARISOL, TOBIAS)), (new, (MARISOL,))):
        folder.mkdir()
        for line in lines:
            erased_list.note(folder, line)
    for _ in range(2):
        erased_list.join_lists(old, new)
    assert erased_list.noted(new) == [MARISOL, TOBIAS]
