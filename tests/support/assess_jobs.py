"""Small jobs to assess, so that a test says only what matters to it."""

from __future__ import annotations

import copy
import json
from typing import Any

from support.published_cases import REFERENCE

from fitcounter.fit.assessment.assess import assess, read_job

EXAMPLES = REFERENCE / "worked_examples"


def example(name: str) -> dict[str, Any]:
    """A worked example's job: "a", "b" or "c"."""
    loaded: dict[str, Any] = json.loads((EXAMPLES / f"job-{name}.json").read_text(encoding="utf-8"))
    return loaded


def expected(name: str) -> dict[str, Any]:
    """What an independent implementation answers."""
    loaded: dict[str, Any] = json.loads(
        (EXAMPLES / f"expected-{name}.json").read_text(encoding="utf-8")
    )
    return loaded


def job(
    both: dict[str, Any] | None = None, boot: dict[str, Any] | None = None, **top: Any
) -> dict[str, Any]:
    """A metric pair, supple leather without zip, 10 mm short at 300 mm by an amount; both: changes
    on each side.
    """
    side = {
        "target": "amount",
        "boot": shaft(),
        "amounts": [{"height": "300", "amount": "10"}],
        **(both or {}),
    }
    return {
        "unit": "mm",
        "boot": {"material": "supple-full-grain", **(boot or {})},
        "left": copy.deepcopy(side),
        "right": copy.deepcopy(side),
        **top,
    }


def shaft(*readings: tuple[str, str]) -> list[dict[str, Any]]:
    """Boot readings as (height, girth) texts; 400 mm all the way up unless said."""
    return [
        {"height": height, "girth": [girth]}
        for height, girth in readings or (("100", "400"), ("400", "400"))
    ]


def leg(*readings: tuple[str, str, str]) -> list[dict[str, Any]]:
    """Leg readings as (station, height, girth) texts."""
    return [
        {"station": station, "height": height, "girth": [girth]}
        for station, height, girth in readings
    ]


def answer(data: object) -> dict[str, Any]:
    """The answer as JSON."""
    return assess(read_job(data)).as_json()


def left(data: object) -> dict[str, Any]:
    """The left side of the answer."""
    found: dict[str, Any] = answer(data)["left"]
    return found
