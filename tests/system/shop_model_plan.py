"""What else moves the plan of the model's bench: holds, days away, trees in repair, days that are
agreed or told, boots that wait or are stopped.
"""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import strategies as st
from hypothesis.stateful import rule
from system.shop_model_jobs import BOOTS, TREES, Boot
from system.shop_model_steps import ShopSteps

from fitcounter.desk.bench import incidents, wait_and_go_on
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import calls_and_reminders, pickup, ticket_rows
from fitcounter.desk.plan import plan_changes
from fitcounter.desk.trees.trees import set_state
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Written


class PlanRules(ShopSteps):
    """What moves the plan beside the steps of a round."""

    @rule(n=BOOTS)
    def sent_back_at_pickup(self, n: int) -> None:
        def work(act: Act, boot: Boot, said: StepInput) -> Written:
            return pickup.try_on(self.store, act, boot.id, "back", said)

        boot = self.boot(n, "shelved")
        self.chosen, before = boot, boot.version
        self.step(0, "back on the tree", ("shelved",), work, False, state="queued")
        self.chosen = None
        if boot.version > before:
            boot.back = []

    @rule(n=st.integers(0, 5), hours=st.sampled_from([48, 168, 240]))
    def another_hold(self, n: int, hours: int) -> None:
        fit_id = self.job(n).fit_id
        self.must(
            "another hold",
            True,
            lambda act: plan_changes.set_hold(
                self.store, act, self.shop, fit_id, None, hours, confirmed=True
            ),
        )

    @rule(after=st.integers(0, 12), days=st.integers(0, 9))
    def bench_away_or_back(self, after: int, days: int) -> None:
        if self.away:
            closure_id, self.away = self.away, 0
            self.must(
                "back early",
                True,
                lambda act: plan_changes.back_early(self.store, act, self.shop, closure_id),
            )
            return
        first = self.shop.today(self.now) + timedelta(days=after)
        last = first + timedelta(days=days)
        written = self.must(
            "bench away",
            True,
            lambda act: self._close(act, first, last),
        )
        assert written is not None
        self.away = int(self.store.value("SELECT max(id) FROM closures"))

    def _close(self, act: Act, first: date, last: date) -> Written:
        """The bench alone, or the whole shop where the days are odd."""
        whole = bool((last - first).days % 2)
        return plan_changes.away(
            self.store, act, self.shop, first, last, "", True, shop_closed=whole
        )

    @rule(label=st.sampled_from(TREES))
    def tree_in_repair_or_back(self, label: str) -> None:
        tree_id = TREES.index(label) + 1
        state = "repair" if label not in self.in_repair else "sound"
        may = state == "sound" or self.holder(label) is None
        if self.must(
            f"tree in {state}", may, lambda act: set_state(self.store, act, tree_id, state)
        ):
            self.in_repair ^= {label}

    @rule(n=BOOTS, after=st.integers(-1, 30))
    def pickup_agreed(self, n: int, after: int) -> None:
        boot = self.boot(n)
        day = None if after < 0 else self.shop.today(self.now) + timedelta(days=after)
        self.must(
            "pickup day",
            True,
            lambda act: plan_changes.set_pickup_day(self.store, act, self.shop, boot.id, day),
        )

    @rule(n=BOOTS)
    def told_of_the_new_day(self, n: int) -> None:
        """The customer of a late job is told when it will be ready: the promise moves."""
        job = self.job(n)
        today = self.shop.today(self.now)
        row = ticket_rows.row_of(
            self.store, tickets.get(self.store, job.ticket_id), self.shop, today
        )
        day = row.when.day
        if not row.when.late or day is None:
            return
        self.must(
            "told",
            True,
            lambda act: calls_and_reminders.keep(
                self.store, act, self.shop, job.ticket_id, "called", new_day=day
            ),
        )
        for boot in job.boots:
            version = items.get(self.store, boot.id).version
            if version > boot.version:  # a day of its own moved, and with it the last page
                boot.version, boot.back = version, []
        row = ticket_rows.row_of(
            self.store, tickets.get(self.store, job.ticket_id), self.shop, today
        )
        assert not row.when.late or row.when.promised != day

    @rule(n=BOOTS)
    def on_hold_or_on_with_it(self, n: int) -> None:
        starts = ("queued", "prepared", "resting", "to-decide", "waiting")
        boot = self.boot(n, *starts)
        if boot.state == "waiting":

            def on(act: Act, boot: Boot, said: StepInput) -> Written:
                return wait_and_go_on.go_on(self.store, act, boot.id, said)

            self.chosen = boot
            self.step(0, "go on", ("waiting",), on, False, state=self.before_hold[boot.id])
            self.chosen = None
            return
        if boot.state not in starts:
            return
        self.before_hold[boot.id] = boot.state

        def wait(act: Act, boot: Boot, said: StepInput) -> Written:
            return wait_and_go_on.wait(self.store, act, boot.id, said, "customer")

        self.chosen = boot
        self.step(0, "put on hold", starts, wait, False, state="waiting")
        self.chosen = None

    @rule(n=BOOTS)
    def stopped(self, n: int) -> None:
        """Something went wrong with a boot that is on no tree; it stays so."""
        boot = self.boot(n, "queued", "to-decide")
        if n % 3 or boot.state not in ("queued", "to-decide"):
            return

        def stop(act: Act, boot: Boot, said: StepInput) -> Written:
            return incidents.stop(self.store, act, boot.id, said, "a stitch hole opened")

        self.chosen = boot
        self.step(0, "stop", ("queued", "to-decide"), stop, False, state="stopped")
        self.chosen = None
