"""The boot as read from a job: what may be left out, what does not grow, what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.job_boot import Boot, read_boot
from fitcounter.fit.assessment.shaft import Strip
from fitcounter.fit.handbook import leather as book
from fitcounter.fit.handbook.load import ZIP_LATERAL_N


def boot(**fields: Any) -> Boot:
    return read_boot({"material": "supple-full-grain", **fields}, "boot")


def test_only_the_leather_must_be_named() -> None:
    read = boot()
    assert (read.leather.code, read.lining, read.age, read.method) == (
        "supple-full-grain",
        "none",
        "sound",
        "inside",
    )
    assert (read.wall_mm, read.thickness_mm) == (book.WALL_MM, book.THICKNESS_MM)
    assert (read.zip, read.elastic, read.strips, read.top_mm) == (None, None, (), None)


def test_a_zip_is_a_strip_as_wide_as_its_tapes_and_as_strong_as_the_handbook_says() -> None:
    read = boot(zip={"from_mm": 60, "to_mm": 340, "state": "worn"}).zip
    assert read is not None
    assert read.strip == Strip("zip", book.ZIP_BAND_MM, 60, 340)
    assert (read.state, read.lateral_n_per_25mm) == ("worn", ZIP_LATERAL_N)


def test_all_that_does_not_grow_is_found_together() -> None:
    read = boot(
        zip={"to_mm": 300, "band_mm": 22},
        elastic={"width_mm": 40, "from_mm": 0, "to_mm": 100},
        rigid=[{"name": "backstay", "width_mm": 25, "to_mm": 400}, {"width_mm": 10, "to_mm": 50}],
    )
    assert [(strip.name, strip.width_mm) for strip in read.strips] == [
        ("zip", 22),
        ("elastic", 40),
        ("backstay", 25),
        ("strip", 10),
    ]


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"material": "paper"}, "boot.material"),
        ({"colour": "tan"}, "boot.colour"),
        ({"wall_mm": 31}, "boot.wall_mm"),
        ({"signed_off": 1}, "boot.signed_off"),
        ({"zip": {"from_mm": 300, "to_mm": 60}}, "boot.zip.to_mm"),
        ({"rigid": [{"to_mm": 60}]}, "boot.rigid[0].width_mm"),
        ({"elastic": {"width_mm": 40, "from_mm": 2, "to_mm": 1}}, "boot.elastic.to_mm"),
    ],
)
def test_what_cannot_be_is_refused_under_its_own_name(fields: dict[str, Any], field: str) -> None:
    with pytest.raises(BadInput) as refused:
        boot(**fields)
    assert refused.value.field == field
