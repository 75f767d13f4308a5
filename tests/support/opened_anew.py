"""Tests that look at what a new connection finds, or do something to it, have one a request."""

from __future__ import annotations

import pytest

from fitcounter.desk.shop import EachOpens, KeptOpen


def opened_anew(patch: pytest.MonkeyPatch) -> None:
    """Every request opens the file for itself and closes it; connections that waited wait on."""
    patch.setattr(KeptOpen, "enter", EachOpens.enter)
    patch.setattr(KeptOpen, "leave", EachOpens.leave)
