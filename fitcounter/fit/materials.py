"""Leather classes: how far each may be stretched, what halves that, and what forbids it.

The limits are the shop's own choice (handbook_leather), strains of the leather part; no standard gives any.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from fitcounter.fit import handbook_leather as book
from fitcounter.fit.handbook_leather import Leather

EXOTIC = "exotic"
CLOTH_LININGS = ("textile", "fleece")
LININGS = ("none", "leather", *CLOTH_LININGS)
AGES = ("sound", "dry-or-old")
DIALS = ("usual", "careful")

PRIOR_STRETCH = "prior-stretch"
OPEN_SEAM = "open-seam"
REFUSING_FINDINGS = {
    "cracked-grain": "the grain is cracked",
    "cracked-finish": "the finish is cracked",
    "red-rot": "the leather is powdering (red rot), which cannot be reversed",
    "delaminated": "the lining is coming away",
}


@dataclass(frozen=True, slots=True)
class Limits:
    """Strains of the leather part. routine: usual; round: most in one opening; ceiling: most ever. because: the reasons."""

    routine: float
    round: float
    ceiling: float
    because: tuple[str, ...]


def limits(leather: Leather, lining: str, age: str, dial: str, findings: Collection[str] = ()) -> Limits:
    """The limits of a boot: its class, narrowed by lining, age, an earlier stretch of unknown size and a careful dial."""
    because = [f"{leather.name}: {leather.reason}"]
    both, ceiling_only = 1.0, 1.0
    if lining in CLOTH_LININGS:
        both *= book.CLOTH_LINING_FACTOR
        because.append(f"{lining} lining: three quarters, because woven cloth hardly grows")
    if age == "dry-or-old":
        both *= book.DRY_OR_OLD_FACTOR
        because.append("dry or over ten years: half")
    if PRIOR_STRETCH in findings:
        ceiling_only = book.PRIOR_STRETCH_FACTOR
        because.append("stretched before, first girth unknown: half the ceiling")
    if dial == "careful":
        both *= book.CAREFUL_FACTOR
        because.append("careful: half of the usual")
    ceiling = leather.ceiling * both * ceiling_only
    return Limits(min(leather.routine, ceiling), leather.round * both, ceiling, tuple(because))


def refusals(leather: Leather, findings: Collection[str], signed_off: bool) -> list[str]:
    """Why this boot is not stretched at all, one reason each; empty where it may be. signed_off: by the master."""
    reasons = []
    if leather.refused:
        reasons.append(f"{leather.name}: {leather.reason}")
    if leather.code == EXOTIC and not signed_off:
        reasons.append(f"{leather.name}: only with the master's sign-off")
    reasons.extend(sentence for finding, sentence in REFUSING_FINDINGS.items() if finding in findings)
    return reasons
