"""A good job with one field changed, and the refusal that it gets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from support.assess_jobs import job, leg
from support.wrong_fields import GONE, ROUND

from fitcounter.errors import BadInput, BadReading, FitCounterError
from fitcounter.fit.assessment.assess import assess, read_job


def refusal(data: object) -> FitCounterError:
    with pytest.raises((BadInput, BadReading)) as refused:
        assess(read_job(data))
    return refused.value


def put(path: str, value: object) -> Callable[[], dict[str, Any]]:
    """A good job with one field changed: "left.boot.0.height"; value GONE leaves it out."""

    def changed() -> dict[str, Any]:
        data: Any = job(
            {
                "leg": leg(("calf", "300", "420")),
                "rounds": [dict(ROUND)],
                "gaps": [{"height": "300", "gap": "5"}],
            }
        )
        data["leg"] = {}
        for side in ("left", "right"):
            data[side]["differs"] = {}
        data["boot"].update(
            zip={"from_mm": 0, "to_mm": 400}, elastic={}, rigid=[{"width_mm": 20, "to_mm": 400}]
        )
        data["records"] = {"goat": {"mean": 0.5, "sd": 0.1, "boots": 3}}
        place: Any = data
        *way, last = path.split(".")
        for key in way:
            place = place[int(key)] if key.isdigit() else place[key]
        if value is GONE:
            del place[last]
        else:
            place[int(last) if last.isdigit() else last] = value
        return data  # type: ignore[no-any-return]

    return changed
