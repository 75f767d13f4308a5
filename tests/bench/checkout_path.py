"""Lets a command of this folder be started as it stands, `python tests/bench/plan_speed.py`: the
checkout and its tests are found from whatever folder it is called in. Import it first.
"""

from __future__ import annotations

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS.parent), str(TESTS)]
