"""The model at the bench: each step of a round, and the one that takes the last step back."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import strategies as st
from hypothesis.stateful import rule
from system.shop_model_jobs import BOOTS, SHELVES, TREES, Boot
from system.shop_model_steps import ShopSteps

from fitcounter.desk.bench import arrive_done_shelve, put_on_turn_up_take_off, undo_step
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.store.database import Act


class BenchRules(ShopSteps):
    """What happens to a boot at the bench."""

    @rule(n=BOOTS, stale=st.sampled_from([False, False, False, True]))
    def prepare(self, n: int, stale: bool) -> None:
        boot = self.boot(n, "queued", "to-decide")
        fresh = not (boot.open_round and boot.off_at is None)
        more = {"rounds": boot.rounds + 1, "open_round": True, "off_at": None} if fresh else {}

        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return put_on_turn_up_take_off.prepare(self.store, act, boot.id, said, "dry", "")

        self.step(n, "prepare", ("queued", "to-decide"), work, stale, state="prepared", **more)

    @rule(n=BOOTS, label=st.sampled_from(TREES), stale=st.sampled_from([False, False, False, True]))
    def put_on(self, n: int, label: str, stale: bool) -> None:
        boot = self.boot(n, "queued", "prepared", "to-decide")
        free = (
            self.holder(label) in (None, boot)
            and {"4": "left", "5": "right"}[label] == boot.side
            and label not in self.in_repair
        )
        fresh = not (boot.open_round and boot.off_at is None)
        more = {"rounds": boot.rounds + 1, "open_round": True, "off_at": None} if fresh else {}
        typed = put_on_turn_up_take_off.PutOn(
            label, before="13 5/8", on_tree="13 7/8", mark="12 1/2", take_tree=True
        )

        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return put_on_turn_up_take_off.put_on(self.store, act, self.shop, boot.id, said, typed)

        self.step(
            n,
            "put on",
            ("queued", "prepared", "to-decide"),
            work,
            stale,
            free,
            state="on-tree",
            tree=label,
            **more,
        )

    @rule(n=BOOTS)
    def turn_up(self, n: int) -> None:
        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return put_on_turn_up_take_off.turn_up(
                self.store, act, self.shop, boot.id, said, "13 15/16", ""
            )

        self.step(n, "turn up", ("on-tree",), work, False)

    @rule(n=BOOTS, stale=st.sampled_from([False, False, False, True]))
    def take_off(self, n: int, stale: bool) -> None:
        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return put_on_turn_up_take_off.take_off(self.store, act, boot.id, said, "eased")

        self.step(
            n, "take off", ("on-tree",), work, stale, state="resting", tree="", off_at=self.now
        )

    @rule(n=BOOTS)
    def rested(self, n: int) -> None:
        boot = self.boot(n, "resting", "to-decide")
        early = (
            boot.state == "resting"
            and boot.off_at is not None
            and self.now < boot.off_at + timedelta(hours=24)
        )

        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return measure_again(
                self.store, act, self.shop, boot.id, said, RestedReading("13 13/16")
            )

        self.step(
            n,
            "early reading" if early else "rested",
            ("resting", "to-decide"),
            work,
            False,
            state="resting" if early else "to-decide",
        )

    @rule(n=BOOTS)
    def another_round(self, n: int) -> None:
        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return arrive_done_shelve.another_round(self.store, act, boot.id, said)

        self.step(n, "another round", ("to-decide",), work, False, state="queued", open_round=False)

    @rule(n=BOOTS)
    def done(self, n: int) -> None:
        boot = self.boot(n, "counter", "queued", "to-decide")
        more = {"open_round": False} if boot.off_at is not None else {}

        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return arrive_done_shelve.done(self.store, act, boot.id, said)

        self.step(
            n, "done", ("counter", "queued", "to-decide"), work, False, state="finishing", **more
        )

    @rule(n=BOOTS)
    def finish(self, n: int) -> None:
        boot = self.boot(n, "to-decide", "finishing")
        more = {"open_round": False} if boot.off_at is not None else {}

        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return arrive_done_shelve.finish(self.store, act, boot.id, said)

        self.step(n, "finish", ("to-decide", "finishing"), work, False, state="finished", **more)

    @rule(
        n=BOOTS, shelf=st.sampled_from(SHELVES), stale=st.sampled_from([False, False, False, True])
    )
    def shelve(self, n: int, shelf: str, stale: bool) -> None:
        def work(act: Act, boot: Boot, said: StepInput) -> object:
            return arrive_done_shelve.shelve(self.store, act, boot.id, said, shelf)

        self.step(
            n,
            "shelve",
            ("finishing", "finished", "declined", "shelved"),
            work,
            stale,
            state="shelved",
            shelf=shelf,
        )

    @rule(n=BOOTS, wrong=st.sampled_from([False, False, False, True]))
    def undo(self, n: int, wrong: bool) -> None:
        boot = self.boot(n, *(boot.state for job in self.jobs for boot in job.boots if boot.back))
        last = (
            int(
                self.store.value(
                    "SELECT max(id) FROM steps WHERE item_id = ? AND undone_at IS NULL", boot.id
                )
                or 0
            )
            + wrong
        )
        held = (
            self.holder(boot.back[-1][1]["tree"])
            if boot.back and boot.back[-1][1]["tree"]
            else None
        )
        may = bool(boot.back) and not wrong and held in (None, boot)
        if self.must(
            "undo", may, lambda act: undo_step.undo(self.store, act, self.shop, boot.id, last)
        ):
            boot.version += 1
            for name, value in boot.back.pop()[1].items():
                setattr(boot, name, value)
