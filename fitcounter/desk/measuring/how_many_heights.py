"""How many heights a measuring sheet asks for: the upper three where a gap is clear, three over the
leg where it is not, all where it is close.
"""

from __future__ import annotations

# Two or three heights, three, the whole leg, or those that were read.
DEPTHS = ("gap", "three", "whole", "read")
_USUAL = {"gap": "gap", "amount": "gap", "safe": "three", "leg": "three"}


def depth_of(target: str, is_read: bool, is_rough: bool) -> str:
    """One of DEPTHS: the heights that were read in this way; more of them where one is missed, the
    usual ones where nothing was read yet.

    target: leg, gap, amount or safe. is_rough: what was read leaves a height out.
    """
    if not is_read:
        return _USUAL[target]
    return "whole" if is_rough else "read"


def heights_of(shop_mm: tuple[float, ...], depth: str) -> tuple[float, ...]:
    """The shop's heights a depth asks for: the upper three for a gap, three spread from the ankle's
    end up, or all.
    """
    ordered = tuple(sorted(shop_mm))
    if depth == "whole" or len(ordered) <= 3:
        return ordered
    if depth == "gap":
        return ordered[-3:]
    return tuple(
        ordered[place] for place in (len(ordered) // 3, 2 * len(ordered) // 3, len(ordered) - 1)
    )
