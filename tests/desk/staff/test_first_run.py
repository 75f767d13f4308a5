"""The first run: set up once, by whoever read the token, within an hour."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from support.cast import Clock

from fitcounter.desk.shop import Store, open_store
from fitcounter.desk.staff import first_run as staff_first_run


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "shop.db")
    yield opened
    opened.close()


def test_the_word_is_kept_as_a_hash_and_a_new_start_prints_another(
    empty: Store, clock: Clock
) -> None:
    """Who reads the file learns nothing; the word before is dead."""
    old = staff_first_run.new_setup_token(empty, clock.now)
    new = staff_first_run.new_setup_token(empty, clock.now)
    assert old != new
    assert new.encode() not in empty.path.read_bytes()
    with pytest.raises(staff_first_run.NotAllowed):
        staff_first_run.check_setup_token(empty, old, clock.now)
