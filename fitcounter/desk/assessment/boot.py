"""A stored boot as the computation takes it: leather, wall, and what does not grow."""

from __future__ import annotations

import json
from functools import lru_cache

from fitcounter.fit.assessment.job_boot import Boot, Zip
from fitcounter.fit.assessment.job_fields import in_range, one_of
from fitcounter.fit.assessment.shaft import Strip
from fitcounter.fit.handbook.leather import LEATHERS
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.handbook.load import ZIP_LATERAL_N
from fitcounter.store.records import Item

MOST_KEPT = 512


def boot_of(item: Item, path: str) -> Boot:
    """The making of a stored boot, lengths in mm. path: of the boot in its job, for a refusal.

    Raises BadInput for a leather that the handbook does not have.
    """
    return Boot(
        leather=LEATHERS[one_of(f"{path}.material", item.material, tuple(LEATHERS))],
        lining=item.lining,
        age=item.age,
        signed_off=bool(item.signed_off),
        thickness_mm=item.thickness_um / UM_PER_MM,
        lining_mm=item.lining_um / UM_PER_MM,
        wall_mm=item.wall_um / UM_PER_MM,
        method=item.method,
        heights_from=item.heights_from,
        seat_mm=item.seat_um / UM_PER_MM,
        shaft_mm=item.shaft_um / UM_PER_MM,
        rise_mm=item.rise_um / UM_PER_MM,
        zip=_zip(item.zip, f"{path}.zip"),
        elastic=_strip("elastic", json.loads(item.elastic)) if item.elastic else None,
        rigid=_rigid(item.rigid),
        throat_mm=None if item.throat_um is None else item.throat_um / UM_PER_MM,
    )


@lru_cache(maxsize=MOST_KEPT)
def _zip(text: str, path: str) -> Zip | None:
    """The zip in the column of that name, made once of the same text; None where the column is
    empty.
    """
    if not text:
        return None
    stored, key = json.loads(text), "lateral_n_per_25mm"
    strength = in_range(f"{path}.{key}", stored.get(key, ZIP_LATERAL_N), key)
    return Zip(_strip("zip", stored, "band_um"), stored["state"], strength)


@lru_cache(maxsize=MOST_KEPT)
def _rigid(text: str) -> tuple[Strip, ...]:
    """The parts in the column of that name, in the same way."""
    return tuple(_strip(part["name"], part) for part in json.loads(text))


def _strip(name: str, stored: dict[str, int], width: str = "width_um") -> Strip:
    """What does not grow, with its width and its span in micrometres."""
    return Strip(name, *(stored[key] / UM_PER_MM for key in (width, "from_um", "to_um")))
