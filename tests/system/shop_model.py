"""A small model of what must stand in the shop's file, driven beside the desk by hypothesis.

It knows three jobs at a time: a pair of boots, each with its state, its tree, its shelf and its
rounds, and the money of their ticket. A step is drawn without asking whether it follows; the model
says whether it must be taken or refused.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

from hypothesis import HealthCheck, Phase, seed, settings
from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule, run_state_machine_as_test
from system.shop_model_bench import BenchRules
from system.shop_model_counter import CounterRules
from system.shop_model_invariants import MustStand
from system.shop_model_jobs import SHELVES, taken
from system.shop_model_plan import PlanRules

from fitcounter.desk.plan import plan_keeping
from fitcounter.errors import FitCounterError


class ShopMachine(CounterRules, BenchRules, PlanRules, MustStand):
    """Everything that may happen to a pair of boots, in any order, with repeats and stale pages
    among it.
    """

    def pass_time(self, hours: int) -> None:
        """So many hours go by. On every new day the shop's machine plans anew, and somebody looks
        at the calls to make before closing.
        """
        until = self.now + timedelta(hours=hours)
        while self.shop.today(self.now) < self.shop.today(until):
            self.look_at_the_calls()
            self.now = min(until, self.now + timedelta(hours=24))
            plan_keeping.keep_today(self.store, self.shop, self.now)
            self.written_at = self.now
        self.now = until

    @rule(n=st.integers(0, 5), most=st.integers(2, 7))
    def goes_its_way(self, n: int, most: int) -> None:
        """The usual next steps of one boot, so that a run sees what comes late in a job as well as
        what comes early.
        """
        boots = [boot for job in self.jobs for boot in job.boots]
        chosen, self.chosen = boots[n % len(boots)], boots[n % len(boots)]
        label = {"left": "4", "right": "5"}[chosen.side]
        way: dict[str, Callable[[], None]] = {
            "queued": lambda: self.prepare(0, False),
            "prepared": lambda: self.put_on(0, label, False),
            "on-tree": lambda: self.take_off(0, False),
            "resting": lambda: self.rested(0),
            "to-decide": lambda: self.done(0) if most % 2 else self.another_round(0),
            "finishing": lambda: self.finish(0),
            "finished": lambda: self.shelve(0, SHELVES[n % 3], False),
            "out": lambda: self.come_back(0),
        }
        for _ in range(most):
            if chosen.state in way:
                self.pass_time(25)
                way[chosen.state]()
                self.the_file_is_as_the_model()
                self.the_kept_plan_is_the_fresh_one()
        self.chosen = None

    @rule(hours=st.sampled_from([1, 5, 26, 24 * 7]))
    def time_goes_on(self, hours: int) -> None:
        self.pass_time(hours)
        taken["time goes on"] += 1

    @precondition(lambda self: self.last is not None)
    @rule(other=st.booleans())
    def sent_again(self, other: bool) -> None:
        """The same submission: the first result, and nothing more; with another body it is
        refused.
        """
        what, work, act, written = self.last  # type: ignore[misc]
        before = self.store.value("SELECT count(*) FROM audit WHERE what <> 'bench-planned'")
        try:
            again = work(replace(act, body_hash="another") if other else act)
            assert not other, f"{what}: another body under the same id was taken"
            assert again.as_text() == written.as_text(), what
        except FitCounterError as error:
            if not other:
                raise AssertionError(f"{what} sent again was refused: {error.sentence}") from error
        assert (
            self.store.value("SELECT count(*) FROM audit WHERE what <> 'bench-planned'") == before
        ), what
        taken["sent again"] += 1


def play(machines: int, steps: int, start: int = 0) -> Counter[str]:
    """So many shops with so many steps each, the same ones for the same start; returns what was
    taken and refused in all.
    """
    taken.clear()
    calm = settings(
        max_examples=machines,
        stateful_step_count=steps,
        derandomize=True,
        deadline=None,
        database=None,
        print_blob=False,
        suppress_health_check=list(HealthCheck),
        phases=(Phase.generate, Phase.shrink) if machines < 20 else (Phase.generate,),
    )
    run_state_machine_as_test(seed(start)(ShopMachine), settings=calm)
    return Counter(taken)
