"""Words are found in files as bytes, by a process of its own."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from fitcounter.store import byte_search


def test_files_that_hold_a_word_are_counted_and_all_bytes_too(tmp_path: Path):
    (tmp_path / "a").write_bytes("before Núñez after".encode())
    (tmp_path / "b").write_bytes(b"nobody here")
    (tmp_path / "c").write_bytes(b"555 0100, twice: 555 0100")
    files = [tmp_path / name for name in "abc"]
    found = byte_search.search(files, ["Núñez", "555 0100"])
    assert found == byte_search.Searched(3, sum(file.stat().st_size for file in files), 2)


def test_a_word_across_two_pieces_is_found(tmp_path: Path):
    file = tmp_path / "large"
    file.write_bytes(b"x" * (byte_search.PIECE - 3) + b"canary" + b"x" * 10)
    assert byte_search.search([file], ["canary"]) == byte_search.Searched(
        1, byte_search.PIECE + 13, 1
    )


def test_without_words_nothing_is_found_and_a_file_that_went_is_left_out(tmp_path: Path):
    (tmp_path / "a").write_bytes(b"something")
    assert byte_search.search([tmp_path / "a", tmp_path / "gone"], []) == byte_search.Searched(
        1, 9, 0
    )


def test_where_no_process_can_be_started_nothing_is_claimed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(sys, "executable", str(tmp_path / "no python here"))
    assert byte_search.search([], []) is None
