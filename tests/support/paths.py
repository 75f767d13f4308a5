"""Where the tests find the checkout, themselves, and the published cases."""

from __future__ import annotations

from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
CHECKOUT = TESTS.parent
REFERENCE = TESTS / "reference"
