"""The key of the audit's chain: drawn once, kept beside the file, and never lost in a race."""

from __future__ import annotations

import json
import threading
from pathlib import Path

import pytest

from fitcounter.store import audit_key
from fitcounter.store.opening import open_store


def test_a_new_shop_has_a_key_that_only_its_user_reads(tmp_path: Path) -> None:
    open_store(tmp_path / "shop.db").close()
    assert (tmp_path / audit_key.FILE).stat().st_mode & 0o777 == 0o600
    held = audit_key.of_folder(tmp_path)
    assert held is not None
    assert (len(held.key), held.first, held.unproved) == (32, 1, 0)
    open_store(tmp_path / "shop.db").close()
    assert audit_key.of_folder(tmp_path) == held
    assert held.key.hex() not in (tmp_path / "shop.db").read_bytes().hex()


def test_of_two_that_begin_at_once_one_key_counts(tmp_path: Path) -> None:
    counts: list[audit_key.AuditKey] = []

    def begin() -> None:
        key = audit_key.drawn(0, unproved=False)
        counts.append(audit_key.write(tmp_path, key, replace=False))

    threads = [threading.Thread(target=begin) for _ in range(8)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert len(set(counts)) == 1
    assert [path.name for path in tmp_path.iterdir()] == [audit_key.FILE]


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"key": "xx", "first": 1, "unproved": 0}'])
def test_what_is_no_key_counts_as_none(tmp_path: Path, text: str) -> None:
    (tmp_path / audit_key.FILE).write_text(text)
    assert audit_key.of_folder(tmp_path) is None


def test_a_note_gives_the_key_back() -> None:
    key = audit_key.drawn(12, unproved=True)
    assert audit_key.of_note(json.loads(json.dumps(key.as_note()))) == key
    assert (key.first, key.unproved) == (13, 12)
