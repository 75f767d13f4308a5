"""Reads a file of published cases, so that each entry runs as its own test with its own
tolerance.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

import pytest
from support.paths import REFERENCE

TRUST_WORDS = ("standard", "published", "common practice", "our model", "shop's choice")


@dataclass(frozen=True, slots=True)
class Case:
    """One entry: what goes in, what must come out, within which tolerance; more: anything else the
    entry says.
    """

    given: Any
    expected: Any
    tolerance: float
    more: dict[str, Any]


def cases(name: str, **wanted: object) -> list[Any]:
    """The entries of a file as pytest parameters; wanted: only those whose input says so, such as
    what="strain".
    """
    document = json.loads((REFERENCE / name).read_text(encoding="utf-8"))
    chosen = []
    for number, entry in enumerate(document["cases"]):
        given = entry["input"]
        if isinstance(given, dict) and any(
            given.get(key) != value for key, value in wanted.items()
        ):
            continue
        assert entry["source"]
        assert entry["trust"] in TRUST_WORDS
        case = Case(given, entry["expected"], entry["tolerance"], entry)
        chosen.append(pytest.param(case, id=f"{name.removesuffix('.json')}-{number}"))
    assert chosen, f"no case in {name} says {wanted}"
    return chosen
