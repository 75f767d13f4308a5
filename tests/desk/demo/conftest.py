"""An empty stage with the story's trees, and one job to play on it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.bench_cast import tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.demo.stage import Stage
from fitcounter.store.database import Store


@pytest.fixture
def stage(store: Store, clock: Clock, tmp_path: Path) -> Stage:
    """Counter, bench and owner are there; two trees hang on the wall."""
    tree(store, "4")
    tree(store, "5", "right")
    return Stage(store, shop.read(store), {"CO": 1, "BR": 2, "OW": 3}, clock.now, tmp_path)


@pytest.fixture
def bag_story() -> dict[str, Any]:
    """A bag taken in ten days ago, with nothing done to it yet."""
    bag = {"kind": "bag", "description": "tan bag", "jobs": "new zip", "promised": 3, "price": 4500}
    return {
        "name": "Ada Brandvold",
        "phone": "(555) 010-0171",
        "opened": -10,
        "things": [bag],
        "deposit": 2000,
    }
