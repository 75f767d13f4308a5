"""A model of the shop beside the shop itself: after every step, taken or refused, the file holds what the model says."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test
from shop_model import ShopMachine, taken


def run(machines: int, steps: int) -> int:
    """So many shops with so many steps each; returns how many steps were taken or refused in all."""
    taken.clear()
    calm = settings(
        max_examples=machines, stateful_step_count=steps, derandomize=True, deadline=None, database=None, print_blob=False,
        suppress_health_check=list(HealthCheck), phases=(Phase.generate, Phase.shrink) if machines < 50 else (Phase.generate,),
    )  # fmt: skip
    run_state_machine_as_test(ShopMachine, settings=calm)
    print(f"{taken.total()} steps:", ", ".join(f"{what} {count}" for what, count in sorted(taken.items())))
    return taken.total()


def test_after_every_step_the_file_holds_what_the_model_says():
    assert run(10, 60) > 400


@pytest.mark.slow
def test_after_twenty_thousand_steps_too():
    assert run(130, 200) >= 20_000
