"""A place for an off-site copy, and a machine with nothing on it."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def second(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """On another disk, as far as the shop knows."""
    return tmp_path_factory.mktemp("second")


@pytest.fixture
def new(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A machine with nothing on it."""
    return tmp_path_factory.mktemp("new-machine")
