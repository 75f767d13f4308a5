"""How far the bench plan is from the exact optimum, over random small benches (at most 6 boots and
3 trees): `python tests/bench/plan_optimum.py [cases, 200 unless said]`.
"""

from __future__ import annotations

import sys
from statistics import mean
from time import perf_counter

import checkout_path  # noqa: F401 - finds the next
from support.exact_plan import ratio


def main() -> int:
    """Print how far the plans are from the optimum; 1 where that is over 5 % on average, below it,
    or not proven.
    """
    cases = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    began = perf_counter()
    found = {seed: ratio(seed) for seed in range(cases)}
    proven = {
        seed: (objective, exact) for seed, (objective, exact) in found.items() if exact is not None
    }
    over = sorted(
        ((objective / max(exact, 1.0) - 1) * 100, seed)
        for seed, (objective, exact) in proven.items()
    )
    print(
        f"{cases} benches of at most 6 boots and 3 trees, no rule broken, {len(proven)} optima"
        f" proven, {perf_counter() - began:.0f} s"
    )
    print(
        f"over the optimum: mean {mean(gap for gap, _ in over):.2f} %, worst {over[-1][0]:.1f} %"
        f" (case {over[-1][1]})"
    )
    print(
        f"exactly the optimum: {sum(gap < 1e-4 for gap, _ in over)}; below it (must be 0):"
        f" {sum(gap < -1e-4 for gap, _ in over)}"
    )
    return int(mean(gap for gap, _ in over) > 5 or over[0][0] < -1e-4 or len(proven) < cases)


if __name__ == "__main__":
    sys.exit(main())
