"""The pull of an opening on zip and seams, and the words for it."""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.assessment import shaft
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.handbook import load as book


@dataclass(frozen=True, slots=True)
class Load:
    """Pull at the strain of the next opening. zip: None where no zip spans the tightest place."""

    strain: float
    stress_mpa: float
    tension_n_per_mm: float
    zip: str | None
    seam: str


def zip_strength_at(boot: Boot, height_mm: float) -> float | None:
    """Strength across of the zip that spans a height, N/mm; None where none does."""
    if boot.zip is None or not boot.zip.strip.spans(height_mm):
        return None
    return shaft.zip_strength_n_per_mm(boot.zip.lateral_n_per_25mm)


def load_at(strain: float, wall: tuple[shaft.Layer, ...], zip_strength: float | None) -> Load:
    tension = shaft.tension_n_per_mm(strain, wall)
    zip_word = None
    if zip_strength is not None:
        zip_word = shaft.load_word(tension, zip_strength, book.ZIP_WATCH, book.ZIP_HOLD)
    seam_word = shaft.load_word(tension, book.SEAM_N_PER_MM, book.SEAM_WATCH, book.SEAM_HOLD)
    return Load(strain, wall[0].stress_mpa(strain), tension, zip_word, seam_word)
