"""Going on the tree again and again as a bench does, by what it reads: the yardstick of the
forecast.

One boot at a time, with a true kept fraction and true errors of its readings: open as far as the
limits and the need as read let, keep a share of it, read the rest twice, learn from it, until what
is left as read is within tolerance. It shares no code with the program's forecast; the handbook's
figures stand here as they are printed.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

TOLERANCE, STIFFENING, PER_DECADE, MOST = 3.175, 0.95, 0.12, 6
READING = 1.5 / math.sqrt(2)


@dataclass(frozen=True)
class Boot:
    """A boot at its tightest place; lengths mm, strains fractions.

    tree: None for no limit. lived: rounds before. error, error_sd: of its last reading; with_k:
    covariance of the two. first_error: variance of growth as read less true growth less that error.
    """

    first: float
    leather: float
    girth: float
    need: float
    need_u: float
    round: float
    ceiling: float
    zip: float | None
    seam: float
    tree: float | None
    mean: float
    sd: float
    hold_h: float
    lived: int = 0
    error: float = 0.0
    error_sd: float = 1.5
    with_k: float = 0.0
    zip_leather: float | None = None


@dataclass(frozen=True)
class Course:
    """What became of one boot: rounds (7 stands for more), and its true growth from now."""

    rounds: int
    grown: float


def kept(k24: float, hold_h: float, number: int) -> float:
    """What the number-th round keeps."""
    k = k24 + PER_DECADE * math.log10(hold_h / 24)
    k = max(0.05, min(0.95, k))
    return k * STIFFENING ** (number - 1)


def opening(boot: Boot, read: float, k: float) -> float:
    """How far the next round opens, when it has grown by so much as read and is thought to keep
    k.
    """
    girth = boot.girth + read
    leather = max(1.0, boot.leather + girth - boot.first)
    candidates = [
        girth + boot.round * leather,
        boot.first + boot.ceiling * boot.leather,
        girth + boot.seam * leather,
    ]
    if boot.zip is not None:
        on_zip = leather if boot.zip_leather is None else max(1.0, boot.zip_leather + read)
        candidates.append(girth + boot.zip * on_zip)
    if boot.tree is not None:
        candidates.append(boot.tree)
    candidates.append(girth + max(0.0, boot.need - read) / k)
    return max(girth, min(candidates)) - girth


def follow(boot: Boot, k24: float, error: float, rng: random.Random) -> Course:
    """One boot whose true kept fraction and error of its last reading are these."""
    if boot.need <= TOLERANCE:
        return Course(0, 0.0)
    grown, read = 0.0, 0.0
    thought, doubt = boot.mean, boot.sd**2
    off, off_var, both = boot.error, boot.error_sd**2, boot.with_k
    for n in range(1, MOST + 1):
        number = boot.lived + n
        wide = opening(boot, read, kept(thought, boot.hold_h, number))
        if wide <= TOLERANCE:
            break
        grown += kept(k24, boot.hold_h, number) * wide
        last, luck = read, rng.gauss(0, READING)
        read = grown + luck - error
        if boot.need - read <= TOLERANCE:
            return Course(n, grown)
        # Both unknowns corrected by the gain as read, which is z·(k + o) + luck − off.
        z = wide * STIFFENING ** (number - 1)
        bonus = PER_DECADE * math.log10(boot.hold_h / 24)
        spread = z * z * doubt - 2 * z * both + off_var + READING**2
        missed = (read - last) - (z * (thought + bonus) - off)
        gain_k, gain_e = (z * doubt - both) / spread, READING**2 / spread
        thought, off = thought + gain_k * missed, gain_e * missed
        doubt -= spread * gain_k**2
        both, off_var = -spread * gain_k * gain_e, READING**2 - spread * gain_e**2
    return Course(MOST + 1, grown)


def draw(boot: Boot, rng: random.Random) -> tuple[float, float]:
    """A true kept fraction and a true error of the last reading, jointly normal."""
    step = rng.gauss(0, 1)
    along = boot.with_k / boot.sd
    across = math.sqrt(max(0.0, boot.error_sd**2 - along**2))
    return boot.mean + boot.sd * step, boot.error + along * step + across * rng.gauss(0, 1)


def monte_carlo(boot: Boot, draws: int, seed: int) -> list[float]:
    """Shares of 0 … 6 and more rounds over boots drawn at random."""
    rng = random.Random(seed)
    counts = [0] * (MOST + 2)
    for _ in range(draws):
        counts[follow(boot, *draw(boot, rng), rng).rounds] += 1
    return [count / draws for count in counts]
