"""The pull of an opening on zip and seams at every height, the words for it, and what it allows.

An opening at one place of a boot opens the others in the proportion of its growth, so a zip or a
seam may be strained most somewhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from fitcounter.fit.assessment import shaft
from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.handbook import load as book
from fitcounter.fit.handbook.load import SAME_STRAIN


@dataclass(frozen=True, slots=True)
class Load:
    """Pull of the next opening where it strains most.

    height_mm, strain, stress_mpa (of the upper), tension_n_per_mm: there; seam: its word there.
    zip, zip_height_mm: its word and height where it is strained most, None where no zip spans an
    evaluated height.
    """

    height_mm: float
    strain: float
    stress_mpa: float
    tension_n_per_mm: float
    zip: str | None
    zip_height_mm: float | None
    seam: str


class Opened(NamedTuple):
    """A height while an opening is made at another. share: of that opening, 0 or more."""

    place: PlaceNow
    share: float

    @property
    def leather_mm(self) -> float:
        """The leather that place would have to have to be strained alike where it is opened."""
        return self.place.leather_mm / self.share

    def strain(self, opening_mm: float) -> float:
        return opening_mm * self.share / self.place.leather_mm


def opened_from(places: Sequence[PlaceNow], at: PlaceNow) -> list[Opened]:
    """Every height with its share of an opening at one of them."""

    def share(place: PlaceNow) -> float:
        if place is at:
            return 1.0
        return place.share / at.share if at.share > 0 else 0.0

    return [Opened(place, share(place)) for place in places]


def least_leather_mm(opened: Iterable[Opened]) -> float | None:
    """The leather that limits an opening: the smallest over the heights that open; None without."""
    return min((each.leather_mm for each in opened if each.share > 0), default=None)


def on_zip(opened: Iterable[Opened], boot: Boot) -> list[Opened]:
    """The heights that the boot's zip spans."""
    return [each for each in opened if boot.zip and boot.zip.strip.spans(each.place.height_mm)]


def zip_strength(boot: Boot) -> float:
    """Strength across of the boot's zip, N/mm; a worn one has half. boot: with a zip."""
    assert boot.zip is not None
    strength = shaft.zip_strength_n_per_mm(boot.zip.lateral_n_per_25mm)
    return strength * (book.WORN_ZIP if boot.zip.state == "worn" else 1)


def load_of(
    opening_mm: float, opened: Sequence[Opened], boot: Boot, wall: tuple[shaft.Layer, ...]
) -> Load:
    """The pull of an opening. opened: the heights, lowest first; wall: upper and lining."""
    worst = _most_strained(opening_mm, opened)
    strain = worst.strain(opening_mm)
    tension = shaft.tension_n_per_mm(strain, wall)
    spanned = on_zip(opened, boot)
    zip_word, zip_height = None, None
    if spanned:
        tightest = _most_strained(opening_mm, spanned)
        pull = shaft.tension_n_per_mm(tightest.strain(opening_mm), wall)
        zip_word = shaft.load_word(pull, zip_strength(boot), book.ZIP_WATCH, book.ZIP_HOLD)
        zip_height = tightest.place.height_mm
    return Load(
        worst.place.height_mm,
        strain,
        wall[0].stress_mpa(strain),
        tension,
        zip_word,
        zip_height,
        shaft.load_word(tension, book.SEAM_N_PER_MM, book.SEAM_WATCH, book.SEAM_HOLD),
    )


def _most_strained(opening_mm: float, opened: Sequence[Opened]) -> Opened:
    """The lowest of the most strained."""
    most = max(each.strain(opening_mm) for each in opened)
    return next(each for each in opened if each.strain(opening_mm) >= most - SAME_STRAIN)
