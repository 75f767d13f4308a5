"""The boot as read from a job: leather, wall, what does not grow, and how its heights and girths
are to be taken.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.assessment import materials
from fitcounter.fit.assessment.job_fields import Fields, wrong
from fitcounter.fit.assessment.shaft import Strip
from fitcounter.fit.handbook import leather as book
from fitcounter.fit.handbook.leather import LEATHERS, Leather
from fitcounter.fit.handbook.load import ZIP_LATERAL_N

METHODS = ("inside", "outside", "flat")
DATUMS = ("heel-seat", "ground", "top-line")
ZIP_STATES = ("sound", "worn", "damaged")
BOOT_KEYS = (
    "material",
    "lining",
    "age",
    "signed_off",
    "thickness_mm",
    "lining_mm",
    "wall_mm",
    "method",
    "heights_from",
    "seat_mm",
    "shaft_mm",
    "rise_mm",
    "zip",
    "elastic",
    "rigid",
    "throat_mm",
    "top_mm",
)


@dataclass(frozen=True, slots=True)
class Zip:
    """A zip with its tapes as the strip that does not grow; lateral_n_per_25mm: its strength
    across.
    """

    strip: Strip
    state: str
    lateral_n_per_25mm: float


@dataclass(frozen=True, slots=True)
class Boot:
    """One boot's making.

    signed_off: the master agreed to an exotic leather; throat_mm: girth the heel must pass; top_mm:
    its top line above the heel seat, None where that is not known.
    """

    leather: Leather
    lining: str
    age: str
    signed_off: bool
    thickness_mm: float
    lining_mm: float
    wall_mm: float
    method: str
    heights_from: str
    seat_mm: float
    shaft_mm: float
    rise_mm: float
    zip: Zip | None
    elastic: Strip | None
    rigid: tuple[Strip, ...]
    throat_mm: float | None
    top_mm: float | None = None

    @property
    def strips(self) -> tuple[Strip, ...]:
        """Everything in the shaft that does not grow."""
        zips = (self.zip.strip,) if self.zip else ()
        return (*zips, *((self.elastic,) if self.elastic else ()), *self.rigid)


def read_boot(value: object, path: str) -> Boot:
    """Reads a job's boot. Raises BadInput naming the field."""
    boot = Fields(value, path, BOOT_KEYS)
    return Boot(
        leather=LEATHERS[boot.choice("material", tuple(LEATHERS))],
        lining=boot.choice("lining", materials.LININGS, "none"),
        age=boot.choice("age", materials.AGES, "sound"),
        signed_off=boot.flag("signed_off"),
        thickness_mm=boot.number("thickness_mm", book.THICKNESS_MM),
        lining_mm=boot.number("lining_mm", book.LINING_MM),
        wall_mm=boot.number("wall_mm", book.WALL_MM),
        method=boot.choice("method", METHODS, "inside"),
        heights_from=boot.choice("heights_from", DATUMS, "heel-seat"),
        seat_mm=boot.number("seat_mm", 0),
        shaft_mm=boot.number("shaft_mm", 0),
        rise_mm=boot.number("rise_mm", 0),
        zip=_read_zip(boot),
        elastic=_read_elastic(boot),
        rigid=boot.items("rigid", _read_rigid),
        throat_mm=boot.number_or_none("throat_mm", "girth_mm"),
        top_mm=boot.number_or_none("top_mm", "height_mm"),
    )


def _read_zip(boot: Fields) -> Zip | None:
    if boot.get("zip", None) is None:
        return None
    fields = Fields(
        boot.get("zip"),
        boot.field("zip"),
        ("band_mm", "from_mm", "to_mm", "state", "lateral_n_per_25mm"),
    )
    return Zip(
        _span(fields, "zip", fields.number("band_mm", book.ZIP_BAND_MM, "width_mm")),
        fields.choice("state", ZIP_STATES, "sound"),
        fields.number("lateral_n_per_25mm", ZIP_LATERAL_N),
    )


def _read_elastic(boot: Fields) -> Strip | None:
    if boot.get("elastic", None) is None:
        return None
    fields = Fields(boot.get("elastic"), boot.field("elastic"), ("width_mm", "from_mm", "to_mm"))
    return _span(fields, "elastic", fields.number("width_mm", 0))


def _read_rigid(value: object, path: str) -> Strip:
    fields = Fields(value, path, ("name", "width_mm", "from_mm", "to_mm"))
    return _span(fields, fields.word("name", "strip"), fields.number("width_mm"))


def _span(fields: Fields, name: str, width_mm: float) -> Strip:
    """A strip between two heights above the heel seat, the lower one first."""
    low, high = fields.number("from_mm", 0, "height_mm"), fields.number("to_mm", 0, "height_mm")
    check_span(low, high, fields.field("to_mm"))
    return Strip(name, width_mm, low, high)


def check_span(from_mm: float, to_mm: float, field: str) -> None:
    """Raises BadInput where a strip ends below its beginning. field: of its end."""
    if from_mm > to_mm:
        raise wrong(field, message("write a height above from_mm."), to_mm)
