"""Going on the tree again and again, written down as plainly as it is said: the yardstick of the
forecast.

One boot at a time: open as far as the limits and the need let, keep a share of it, until what is
left is within tolerance. It shares no code with the program's forecast; the handbook's figures
stand here as they are printed.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

TOLERANCE, STIFFENING, PER_DECADE, MOST = 3.175, 0.95, 0.12, 6


@dataclass(frozen=True)
class Boot:
    """A boot at its tightest place; lengths mm, strains fractions.

    tree: None for no limit. lived: rounds before.
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


def kept(k24: float, hold_h: float, number: int) -> float:
    """What the number-th round keeps."""
    k = k24 + PER_DECADE * math.log10(hold_h / 24)
    k = max(0.05, min(0.95, k))
    return k * STIFFENING ** (number - 1)


def opening(boot: Boot, girth: float, left: float, k: float) -> float:
    """How far the next round opens, when so much need is left and it is thought to keep k."""
    leather = max(1.0, boot.leather + girth - boot.first)
    candidates = [
        girth + boot.round * leather,
        boot.first + boot.ceiling * boot.leather,
        girth + boot.seam * leather,
    ]
    if boot.zip is not None:
        candidates.append(girth + boot.zip * leather)
    if boot.tree is not None:
        candidates.append(boot.tree)
    candidates.append(girth + max(0.0, left - TOLERANCE / 2) / k)
    return max(girth, min(candidates)) - girth


def rounds_needed(boot: Boot, k24: float, need: float) -> int:
    """Further rounds of one boot whose true fraction and need are these; 7 stands for more than
    6.
    """
    girth, left, n = boot.girth, need, 0
    while left > TOLERANCE and n <= MOST:
        number = boot.lived + n + 1
        k = kept(k24, boot.hold_h, number)
        wide = (
            opening(boot, girth, boot.need, kept(boot.mean, boot.hold_h, number))
            if n == 0
            else opening(boot, girth, left, k)
        )
        girth, left, n = girth + k * wide, left - k * wide, n + 1
    return n if n <= MOST else MOST + 1


def monte_carlo(
    boot: Boot, draws: int, seed: int, needs: Sequence[float] | None = None
) -> list[float]:
    """Shares of 0 … 6 and more rounds over draws of the normal fraction and of the need: normal, or
    one of the needs given.
    """
    rng = random.Random(seed)
    counts = [0] * (MOST + 2)
    for _ in range(draws):
        need = rng.choice(needs) if needs else rng.gauss(boot.need, boot.need_u)
        counts[rounds_needed(boot, rng.gauss(boot.mean, boot.sd), need)] += 1
    return [count / draws for count in counts]
