"""How far the next round may open, and how far the boot would grow.

How many rounds there will be is in `rounds_ahead`. All lengths are mm of girth, holds are hours.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.assessment.kept_fraction import Belief, Keeping, Kept
from fitcounter.fit.assessment.shaft import leather_now_mm
from fitcounter.fit.handbook.leather import LEAST_LEATHER_MM
from fitcounter.fit.handbook.leg import TIE


@dataclass(frozen=True, slots=True)
class Running:
    """A round that is on the tree now.

    opening_mm of girth, above 0; hold_h: the hold it is meant to have.
    """

    opening_mm: float
    hold_h: float
    dry: bool


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a boot stands at its tightest place.

    first_mm, leather_mm: girth and leather part as first brought in; girth_mm: now; need_mm,
    need_u_mm: short by, and its standard uncertainty; round_strain, ceiling_strain: limits;
    zip_strain (None: no zip in the way) and seam_strain: where the load says hold here; tree_mm:
    the tree's largest girth, if known; kept: corrected; hold_h: of rounds to come; lived: rounds of
    the boot's life, a running one included; running: that one.

    zip_leather_mm, seam_leather_mm: the leather that an opening here would have to have for zip and
    seams to be strained as where they are strained most (None: the leather here). belief: what kept
    stands on (None: kept alone). flat: the last round was read flat.
    """

    first_mm: float
    leather_mm: float
    girth_mm: float
    need_mm: float
    need_u_mm: float
    round_strain: float
    ceiling_strain: float
    zip_strain: float | None
    seam_strain: float
    tree_mm: float | None
    kept: Kept
    hold_h: float
    lived: int = 0
    running: Running | None = None
    zip_leather_mm: float | None = None
    seam_leather_mm: float | None = None
    belief: Belief | None = None
    flat: bool = False

    @property
    def known(self) -> Belief:
        """What is thought of the boot; without a record of it, its kept fraction alone."""
        return self.belief or Belief.at_first(self.kept)

    def leather_at(self, girth_mm: float) -> float:
        """Leather part when the boot's girth is this."""
        return leather_now_mm(self.leather_mm, self.first_mm, girth_mm)

    def keepings(self, rounds: int) -> tuple[Keeping, ...]:
        """How each of so many further rounds keeps; a running round is the first of them, with its
        own hold.
        """
        running = (
            ()
            if self.running is None
            else (Keeping.of(self.running.hold_h, self.running.dry, self.lived),)
        )
        ahead = range(self.lived + 1, self.lived + 1 + rounds - len(running))
        return (*running, *(Keeping.of(self.hold_h, False, number) for number in ahead))

    def bounds(self, girth_mm: float) -> dict[str, float]:
        """The girths that limit an opening from girth_mm, whatever the need, in the order that
        decides ties.
        """
        bounds = {
            "round": girth_mm + self.round_strain * self.leather_at(girth_mm),
            "ceiling": self.first_mm + self.ceiling_strain * self.leather_mm,
        }
        if self.zip_strain is not None:
            bounds["zip"] = girth_mm + self.zip_strain * self._widest(girth_mm, self.zip_leather_mm)
        bounds["seam"] = girth_mm + self.seam_strain * self._widest(girth_mm, self.seam_leather_mm)
        if self.tree_mm is not None:
            bounds["tree"] = self.tree_mm
        return bounds

    def _widest(self, girth_mm: float, leather_mm: float | None) -> float:
        """The leather that zip or seams count with, when the boot's girth is this."""
        if leather_mm is None:
            return self.leather_at(girth_mm)
        return max(LEAST_LEATHER_MM, leather_mm + girth_mm - self.girth_mm)


@dataclass(frozen=True, slots=True)
class Opening:
    """The next opening.

    girth_mm: on the tree; limited_by: round, ceiling, zip, seam, need, tree or running.
    """

    girth_mm: float
    opening_mm: float
    limited_by: str
    kept: float

    @property
    def expected_gain_mm(self) -> float:
        return self.kept * self.opening_mm


ORDER = ("round", "ceiling", "zip", "seam", "need", "tree")


def next_opening(stand: Stand) -> Opening:
    """How far the next round opens; a running one is taken as it was opened."""
    kept = stand.keepings(1)[0].kept(stand.kept.mean)
    if stand.running is not None:
        return Opening(
            stand.girth_mm + stand.running.opening_mm, stand.running.opening_mm, "running", kept
        )
    bounds = stand.bounds(stand.girth_mm)
    bounds["need"] = stand.girth_mm + max(0.0, stand.need_mm) / kept
    least = min(bounds.values())
    limited_by = next(name for name in ORDER if name in bounds and bounds[name] <= least + TIE)
    girth = max(stand.girth_mm, least)
    return Opening(girth, girth - stand.girth_mm, limited_by, kept)


def reach_mm(stand: Stand, rounds: int) -> list[float]:
    """Expected growth from now after 1 … rounds further rounds if each opens as far as it may."""
    grown, growths = 0.0, []
    for number, keeping in enumerate(stand.keepings(rounds)):
        if stand.running is not None and number == 0:
            opening = stand.running.opening_mm
        else:
            girth = stand.girth_mm + grown
            opening = max(0.0, min(stand.bounds(girth).values()) - girth)
        grown += keeping.kept(stand.kept.mean) * opening
        growths.append(grown)
    return growths
