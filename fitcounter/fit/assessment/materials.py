"""Leather classes: how far each may be stretched, what halves that, and what forbids it.

The limits are the shop's own choice (handbook_leather), strains of the leather part; no standard
gives any.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.handbook import leather as book
from fitcounter.fit.handbook.leather import Leather

EXOTIC = "exotic"
CLOTH_LININGS = ("textile", "fleece")
LININGS = ("none", "leather", *CLOTH_LININGS)
AGES = ("sound", "dry-or-old")
DIALS = ("usual", "careful")

PRIOR_STRETCH = "prior-stretch"
OPEN_SEAM = "open-seam"
REFUSING_FINDINGS = {
    "cracked-grain": message("the grain is cracked"),
    "cracked-finish": message("the finish is cracked"),
    "red-rot": message("the leather is powdering (red rot), which cannot be reversed"),
    "delaminated": message("the lining is coming away"),
}


@dataclass(frozen=True, slots=True)
class Factors:
    """What narrows the limits of every leather: shares of round and ceiling, above 0 and at most 1.

    As the handbook has them.
    """

    cloth_lining: float = book.CLOTH_LINING_FACTOR
    dry_or_old: float = book.DRY_OR_OLD_FACTOR
    prior_stretch: float = book.PRIOR_STRETCH_FACTOR
    careful: float = book.CAREFUL_FACTOR


@dataclass(frozen=True, slots=True)
class Own:
    """What the shop set differently from the handbook: whole rows of its table, and what narrows
    them.
    """

    leathers: tuple[Leather, ...] = ()
    factors: Factors = Factors()

    def row(self, leather: Leather) -> Leather:
        """The shop's own row for a leather of the handbook, else that one."""
        return next((one for one in self.leathers if one.code == leather.code), leather)


HANDBOOK = Own()


@dataclass(frozen=True, slots=True)
class Limits:
    """Strains of the leather part.

    routine: usual; round: most in one opening; ceiling: most ever. because: the reasons.
    """

    routine: float
    round: float
    ceiling: float
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Narrowing:
    """What narrows the limits of one boot, as a job says it.

    lining: of LININGS; age: of AGES; dial: of DIALS; findings: what was seen on it.
    """

    lining: str = "none"
    age: str = "sound"
    dial: str = "usual"
    findings: Collection[str] = ()


def limits(leather: Leather, narrowed: Narrowing, factors: Factors = HANDBOOK.factors) -> Limits:
    """The limits of a boot: its class, narrowed by lining, age, an earlier stretch of unknown size
    and a careful dial. factors: by how much each narrows them.
    """
    lining = narrowed.lining
    because = [_named(leather, leather.reason)]
    both, ceiling_only = 1.0, 1.0
    if lining in CLOTH_LININGS:
        both *= factors.cloth_lining
        because.append(
            f"{lining} lining: {_words(factors.cloth_lining)}, because woven cloth hardly grows"
        )
    if narrowed.age == "dry-or-old":
        both *= factors.dry_or_old
        because.append(f"dry or over ten years: {_words(factors.dry_or_old)}")
    if PRIOR_STRETCH in narrowed.findings:
        ceiling_only = factors.prior_stretch
        because.append(
            f"stretched before, first girth unknown: {_words(factors.prior_stretch)} of the ceiling"
        )
    if narrowed.dial == "careful":
        both *= factors.careful
        because.append(f"careful: {_words(factors.careful)} of the usual")
    ceiling = leather.ceiling * both * ceiling_only
    return Limits(min(leather.routine, ceiling), leather.round * both, ceiling, tuple(because))


def _words(factor: float) -> str:
    return "half" if factor == 0.5 else f"{factor * 100:g} %"


def _named(leather: Leather, reason: str) -> str:
    return message("{leather}: {reason}", leather=leather.name, reason=reason)


def refusals(leather: Leather, findings: Collection[str], signed_off: bool) -> list[str]:
    """Why this boot is not stretched at all, one reason each; empty where it may be.

    signed_off: by the master.
    """
    reasons = []
    if leather.refused:
        reasons.append(_named(leather, leather.reason))
    if leather.code == EXOTIC and not signed_off:
        reasons.append(_named(leather, message("only with the owner’s approval")))
    reasons.extend(
        sentence for finding, sentence in REFUSING_FINDINGS.items() if finding in findings
    )
    return reasons
