"""Two people save the same thing at the same moment: one is stored, the other sees both texts, and
nothing is lost.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from flask import Flask
from support.cast import Clock
from system.race_hall import IN_TURN, LANES, Hall

from fitcounter.settings import Settings
from fitcounter.store import audit_key, integrity
from fitcounter.store.database import Store
from fitcounter.web import create_app


@pytest.fixture
def app(store: Store, tmp_path: Path, clock: Clock) -> Flask:
    """One of its own: it is told to look at no token."""
    return create_app(Settings(data_dir=tmp_path, testing=True), clock)


def run(app: Flask, store: Store, clock: Clock, pairs: int) -> str:
    hall = Hall(app, store, clock)
    words = hall.run(pairs)
    hall.save_again()
    assert store.value("PRAGMA integrity_check") == "ok"
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) is None
    return words


def test_of_two_who_save_at_once_one_is_stored_and_the_other_sees_both(
    app: Flask, store: Store, clock: Clock
):
    """Every form that can be changed twice, at least once; and "Save again" saves, or the page that
    shows both has none.
    """
    print(run(app, store, clock, LANES * len(IN_TURN)))


@pytest.mark.slow
def test_a_thousand_times(app: Flask, store: Store, clock: Clock):
    print(run(app, store, clock, 1000))
