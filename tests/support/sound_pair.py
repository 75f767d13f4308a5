"""A pair of readings with nothing to ask about."""

from __future__ import annotations

from typing import Any

from support.assess_jobs import job, shaft

Girths = tuple[str, ...]
SOUND = (
    ("small", "110", ("225",), ("226",)),
    ("achilles", "170", ("262",), ("261",)),
    ("rise", "240", ("325",), ("322",)),
    ("calf", "300", ("365",), ("368",)),
)


def pair(
    *heights: tuple[str, str, Girths, Girths],
    boot: dict[str, Any] | None = None,
    unit: str = "mm",
    **top: Any,
) -> dict[str, Any]:
    """A pair by leg, with a zip: (station, height, left girths, right girths); the boots are wide
    and straight.
    """
    wide = shaft(*((f"{height} mm", "600 mm") for height in (100, 160, 230, 300)))
    data = job({"target": "leg", "amounts": [], "boot": wide})
    data.update(unit=unit, **top)
    data["boot"].update({"zip": {"from_mm": 0, "to_mm": 400}, **(boot or {})})
    for side, column in (("left", 2), ("right", 3)):
        data[side]["leg"] = [
            {"station": row[0], "height": row[1], "girth": list(row[column])} for row in heights
        ]
    return data
