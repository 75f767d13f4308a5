"""A small model of what must stand in the shop's file, driven beside the desk by hypothesis.

It knows three jobs at a time: a pair of boots, each with its state, its tree, its shelf and its
rounds, and the money of their ticket. A step is drawn without asking whether it follows; the model
says whether it must be taken or refused.
"""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, seed, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from support.bench_cast import tree
from support.measured_pair import BOOT, GAPS, cells, sheet_of

from fitcounter.desk import shop
from fitcounter.desk.aftercare import comeback
from fitcounter.desk.bench import (
    arrive_done_shelve,
    incidents,
    put_on_turn_up_take_off,
    undo_step,
    wait_and_go_on,
)
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.data import erasure
from fitcounter.desk.front_desk import calls_and_reminders, pickup, ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Who
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_changes, plan_keeping, who_is_late
from fitcounter.desk.plan.plan_inputs import IN_PLAN
from fitcounter.desk.plan.ready_day import DayState
from fitcounter.desk.quote import agree
from fitcounter.desk.quote import verdict as quote_answer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.shop import open_store
from fitcounter.desk.trees.trees import set_state
from fitcounter.errors import FitCounterError
from fitcounter.store import (
    audit_key,
    backup,
    bench_days,
    bills,
    integrity,
    items,
    plans,
    restoring,
    rounds,
    tickets,
)
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item

START = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
MOST_JOBS = 3
TREES = ("4", "5")
SHELVES = ("A1", "B2", "C3")
PRICE, DEPOSIT = 9000, 3000
GONE = ("out", "closed")
BOOTS = st.integers(0, 23)
taken: Counter[str] = (
    Counter()
)  # over every machine of a run: how often each step was taken, and how often refused


@dataclass
class Boot:
    """What must stand of one boot. back: how it was before each step that can be taken back."""

    id: int
    side: str
    state: str = "counter"
    version: int = 1
    tree: str = ""
    shelf: str = ""
    rounds: int = 0
    open_round: bool = False  # the last round has no outcome yet
    off_at: datetime | None = None
    back: list[tuple[str, dict[str, Any]]] = field(default_factory=list)

    def seen(self) -> dict[str, Any]:
        names = ("state", "tree", "shelf", "rounds", "open_round", "off_at")
        return {name: getattr(self, name) for name in names}


@dataclass
class Job:
    """What must stand of one ticket."""

    ticket_id: int
    fit_id: int
    customer_id: int
    name: str
    boots: list[Boot]
    measured: bool = False
    agreed: bool = False
    due: int = 0
    payments: int = 0
    comebacks: int = 0
    state: str = "open"
    erased: bool = False


@dataclass(frozen=True)
class Foreseen:
    """What was known of a promise at the end of an open day. called: a line in Calls to make.

    could: the likely rounds would still have done.
    """

    promised: date
    called: bool
    could: bool


class ShopMachine(RuleBasedStateMachine):
    """Everything that may happen to a pair of boots, in any order, with repeats and stale pages
    among it.
    """

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="shop-"))
        self.store: Store = open_store(self.folder / "shop.db")
        # for this file only: a test that is killed loses nothing that anybody typed
        self.store.db.execute("PRAGMA synchronous=OFF")
        self.now, self.jobs, self.number = START, [], 0
        self.written_at: datetime | None = None  # the day that the kept plan was made for
        with self.store.write_tx():
            row = {
                "name": "Odile",
                "initials": "OW",
                "role": "owner",
                "created_at": "2026-01-01T00:00:00Z",
            }
            self.store.insert("staff", **row)
        for label, side in zip(TREES, ("left", "right"), strict=True):
            tree(self.store, label, side)
        self.shop = shop.read(self.store)
        self.chosen: Boot | None = None
        self.away, self.in_repair = 0, set[str]()  # id of the days away; trees out of use
        self.foreseen: dict[int, Foreseen] = {}  # by ticket, on the last open day
        self.before_hold: dict[int, str] = {}
        self.last: tuple[str, Callable[[Act], Written], Act, Written] | None = None

    def teardown(self) -> None:
        """At the end: the chain is whole, and a copy brought back elsewhere holds the same."""
        key = audit_key.of_folder(self.store.path.parent)
        assert integrity.broken_link(self.store, key) is None
        assert self.store.value("PRAGMA integrity_check") == "ok"
        held = integrity.content_hash(self.store)
        self.store.close()
        copy = backup.make(self.folder, self.folder / "copies", self.now)
        elsewhere = self.folder / "elsewhere"
        back = restoring.restore(copy.path, elsewhere, self.now)
        assert (back.faults, back.content_hash, copy.content_hash) == ((), held, held)
        shutil.rmtree(self.folder)

    # ------------------------------------------------------------ how a step is taken

    def act(self) -> Act:
        self.number += 1
        return Act(self.now, 1, None, f"submission-{self.number}", "body")

    def must(self, what: str, allowed: bool, work: Callable[[Act], Written]) -> Written | None:
        """Does it.

        Taken when the model says so, else refused with a sentence and nothing written; a repeat
        gives the first result.
        """
        act, before = self.act(), self.store.value("SELECT count(*) FROM audit")
        try:
            written = work(act)
        except FitCounterError as error:
            if allowed:
                raise AssertionError(f"{what} was refused: {error.sentence}") from error
            assert self.store.value("SELECT count(*) FROM audit") == before, (
                f"{what} was refused and wrote"
            )
            taken[f"{what}, refused"] += 1
            return None
        assert allowed, f"{what} was taken and must not be"
        self.written_at = self.now
        self.last = (what, work, act, written)
        taken[what] += 1
        return written

    def boot(self, n: int, *states: str) -> Boot:
        """One of the boots; three times of four one that is in these states, if there is one."""
        if self.chosen is not None:
            return self.chosen
        all_boots = [boot for job in self.jobs for boot in job.boots]
        fit = [boot for boot in all_boots if boot.state in states] if n % 4 else []
        return (fit or all_boots)[n // 4 % len(fit or all_boots)]

    def job(self, n: int) -> Job:
        return self.jobs[n % len(self.jobs)]

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

    def step(
        self,
        n: int,
        step: str,
        starts: tuple[str, ...],
        work: Callable[[Act, Boot, StepInput], Written],
        stale: bool,
        allowed: bool = True,
        **after: Any,
    ) -> None:
        """One step of the bench on one boot.

        stale: from a page that was open before the last change.
        """
        boot = self.boot(n, *starts)
        said = StepInput(self.now, version=boot.version - 1 if stale else boot.version)
        may = allowed and boot.state in starts and not stale
        before = boot.seen()
        if self.must(step, may, lambda act: work(act, boot, said)) is None:
            return
        boot.version += 1
        boot.back.append((step, before))
        for name, value in after.items():
            setattr(boot, name, value)

    def holder(self, label: str) -> Boot | None:
        return next((boot for job in self.jobs for boot in job.boots if boot.tree == label), None)

    # ------------------------------------------------------------ the counter

    @initialize()
    def two_pairs_are_in_work(self) -> None:
        for n in range(2):
            self.take_in()
            self.measure(n, False)
            self.agree(n, False)

    @precondition(lambda self: len(self.jobs) < MOST_JOBS)
    @rule()
    def take_in(self) -> None:
        name = f"Ada Quill {self.number}"
        boots = Boots(("left", "right"), "supple-full-grain", "zip", "leather")
        written = self.must(
            "take in",
            True,
            lambda act: new_job.open_ticket(self.store, act, self.shop, NewJob(Who(name), boots)),
        )
        assert written is not None
        held = items.of_ticket(self.store, written.ticket_id)  # type: ignore[arg-type]
        customer = tickets.get(self.store, written.ticket_id).customer_id  # type: ignore[arg-type]
        pair = [Boot(one.id, str(one.side), version=one.version) for one in held]
        self.jobs.append(Job(written.ticket_id, written.row_id, customer, name, pair))

    @rule(n=st.integers(0, 5), stale=st.booleans())
    def measure(self, n: int, stale: bool) -> None:
        job = self.job(n)
        version = int(self.store.value("SELECT version FROM fits WHERE id = ?", job.fit_id)) - stale
        sheet = sheet_of("gap", cells(gap=GAPS, boot=BOOT))
        if self.must(
            "measure",
            not stale and not job.erased,
            lambda act: measuring_save.save(self.store, act, job.fit_id, sheet, Terms(), version),
        ):
            job.measured = True

    @rule(n=st.integers(0, 5), stale=st.booleans())
    def agree(self, n: int, stale: bool) -> None:
        job = self.job(n)
        if job.measured and not job.erased and not job.agreed:
            assert quote_answer.answer(
                self.store, self.shop, job.fit_id, self.now.date()
            ).can_stretch
        version = tickets.get(self.store, job.ticket_id).version - stale
        said = agree.Agreed(
            (OfferLine("Stretching the pair", "flat", PRICE),),
            job.name,
            promise=self._days().next_open(self.shop.today(self.now) + timedelta(days=21 + 3 * n)),
            deposit_minor=DEPOSIT,
            version=version,
        )
        waiting = [
            boot for boot in job.boots if boot.state == "counter"
        ]  # one that needs nothing may be done before
        may = job.measured and not stale and bool(waiting)
        if self.must(
            "agree",
            may,
            lambda act: agree.agree(self.store, act, self.shop, job.ticket_id, said, self.folder),
        ):
            job.agreed, job.due, job.payments = True, job.due + PRICE - DEPOSIT, job.payments + 1
            for boot in waiting:
                boot.state, boot.version, boot.back = "queued", boot.version + 1, []

    # ------------------------------------------------------------ the bench

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

    # ------------------------------------------------------------ what else moves the plan

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

    # ------------------------------------------------------------ afterwards

    @rule(n=st.integers(0, 5), paid=st.sampled_from([0, 2000, PRICE - DEPOSIT]))
    def hand_over(self, n: int, paid: int) -> None:
        job = self.job(n)
        here = [boot for boot in job.boots if boot.state not in GONE]
        may = bool(here) and all(boot.state in ("shelved", "declined", "finished") for boot in here)
        handed = pickup.Handover(
            frozenset(boot.id for boot in here), self.now, "Ada", paid, preset="three-short-wears"
        )
        if self.must(
            "hand over",
            may,
            lambda act: pickup.hand_over(self.store, act, job.ticket_id, handed, self.shop),
        ):
            job.state, job.due, job.payments = "out", job.due - paid, job.payments + bool(paid)
            for boot in here:
                boot.state, boot.version, boot.back = "out", boot.version + 1, []

    @rule(n=BOOTS)
    def come_back(self, n: int) -> None:
        boot = self.boot(n, "out")
        job = next(one for one in self.jobs if boot in one.boots)
        typed = comeback.ComebackInput(self.now, "tight again", "13 5/8", "", "in")
        if self.must(
            "come back",
            boot.state == "out" and not job.erased,
            lambda act: comeback.come_back(self.store, act, boot.id, typed, self.shop),
        ):
            # one for the step, one for the day that it is promised for
            boot.state, boot.version, boot.back = "queued", boot.version + 2, []
            job.state, job.comebacks = "open", job.comebacks + 1

    @rule(n=st.integers(0, 5))
    def erase(self, n: int) -> None:
        job = self.job(n)

        def work(act: Act) -> Written:
            erasure.erase(self.store, act, job.customer_id, job.name)
            return Written()

        if self.must("erase", job.state != "open" and not job.erased, work):
            job.erased = True
            for boot in job.boots:
                boot.back = []
            self.last = None

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

    # ------------------------------------------------------------ what must stand

    @invariant()
    def the_file_is_as_the_model(self) -> None:
        for job in self.jobs:
            rows = {row.id: row for row in self._ticket(job)}
            for boot in job.boots:
                self._boot(boot, rows[boot.id])
        running = {
            (one.item_id, one.tree_id)
            for one in plans.bookings(self.store)
            if one.kind == "running"
        }
        ids = {label: number + 1 for number, label in enumerate(TREES)}
        assert running == {
            (boot.id, ids[boot.tree]) for job in self.jobs for boot in job.boots if boot.tree
        }, "who holds which tree"

    @invariant()
    def the_kept_plan_is_the_fresh_one(self) -> None:
        """Planned once more from the rows as they stand, nothing of the kept plan differs."""
        if self.written_at is None:
            return
        kept_days = list(bench_days.everything(self.store).values())
        self.store.db.execute("BEGIN")
        bench_days.replace_all(self.store, [])  # so that every boot is reckoned anew as well
        fresh = bench_plan.make(self.store, self.shop, self.written_at)
        self.store.db.execute("ROLLBACK")
        assert kept_days == sorted(plan_keeping.rows_of(fresh), key=lambda row: row.item_id), (
            "the days of the boots"
        )
        kept = [one for one in plans.bookings(self.store) if one.kind == "planned"]
        assert {
            plans.Claim(one.tree_id, one.item_id or 0, one.round_n or 0, one.from_day, one.to_day)
            for one in kept
        } == set(plan_keeping.claims_of(self.store, fresh)), "the trees that are booked"

    @invariant()
    def every_place_gives_one_open_day_and_who_waits_longer_is_called(self) -> None:
        """Find's row is Today's; no day is said on which the shop is closed; whoever will be late,
        or has no day, is a call to make; the plan counts the same late jobs.
        """
        today, days = self.shop.today(self.now), self._days()
        rows = ticket_rows.open_rows(self.store, self.shop, today)
        for row in rows:
            assert ticket_rows.row_of(self.store, row.ticket, self.shop, today).when == row.when
            assert row.when.day is None or days.is_open(row.when.day)
            assert row.when.day is None or row.when.day >= today
        lists = front_desk_today.desk_lists(self.store, self.shop, rows, self.now)
        to_call = {row.ticket.id for row in lists.calls}
        off_track = [row for row in rows if row.when.late or row.when.state == "held"]
        assert {row.ticket.id for row in off_track} <= to_call
        if self.written_at is not None and self.shop.today(self.written_at) == today:
            made = bench_plan.make(self.store, self.shop, self.now)
            late = who_is_late.slipping(
                self.store, self.shop, self.now, made, DayState.LATE, ask=False
            )
            counted = sorted(row.ticket.id for row in lists.late)
            assert counted == sorted(one.row.ticket_id for one in late)

    def look_at_the_calls(self) -> None:
        """At the end of a day: no promise has passed that was not among the calls to make on the
        last open day before it, unless until then the likely rounds would have done.
        """
        today = self.shop.today(self.now)
        rows = ticket_rows.open_rows(self.store, self.shop, today)
        for row in rows:
            seen = self.foreseen.get(row.ticket.id)
            if row.when.promised is None or not row.when.late:
                continue
            if row.when.promised < today and seen and seen.promised == row.when.promised:
                assert seen.called or seen.could, f"ticket {row.ticket.number} was not told of"
        if not self._days().is_open(today):
            return
        to_call = front_desk_today.desk_lists(self.store, self.shop, rows, self.now).calls
        called = {row.ticket.id for row in to_call}
        fresh = bench_plan.make(self.store, self.shop, self.now).plan
        for row in rows:
            promised = row.when.promised
            if promised is not None and promised > today:
                hopes = [fresh.boot(str(item.id)) for item in row.items if item.state in IN_PLAN]
                could = all(boot is not None and boot.hope <= promised for boot in hopes)
                self.foreseen[row.ticket.id] = Foreseen(promised, row.ticket.id in called, could)

    def _days(self) -> ShopDays:
        return shop_days.of_shop(self.store, self.shop)

    def _ticket(self, job: Job) -> list[Item]:
        held = pickup.look(self.store, job.ticket_id)
        assert held.ticket.state == job.state
        assert len(bills.payments(self.store, job.ticket_id)) == job.payments
        assert held.sums.due_minor == job.due
        assert (held.customer.id, held.customer.name) == (
            job.customer_id,
            "erased" if job.erased else job.name,
        )
        assert (
            self.store.value("SELECT count(*) FROM comebacks WHERE ticket_id = ?", job.ticket_id)
            == job.comebacks
        )
        return held.items

    def _boot(self, boot: Boot, row: Item) -> None:
        assert (row.state, row.shelf, row.version) == (boot.state, boot.shelf, boot.version), boot
        held = rounds.of_item(self.store, boot.id)
        assert len(held) == boot.rounds, boot
        assert [one.n for one in held] == list(range(1, len(held) + 1))
        on = [one for one in held if one.on_at and not one.off_at]
        assert len(on) == (boot.state == "on-tree"), boot


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
