"""A shop that the model drives: how it is opened, how a step is taken or refused, and how it is
closed.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from hypothesis.stateful import RuleBasedStateMachine
from support.bench_cast import tree
from system.shop_model_jobs import START, TREES, Boot, Foreseen, Job, taken

from fitcounter.desk import shop
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import open_store
from fitcounter.errors import FitCounterError
from fitcounter.store import audit_key, backup, integrity, restoring
from fitcounter.store.database import Act, Store, Written


class ShopSteps(RuleBasedStateMachine):
    """How a step is taken: the shop, its jobs as the model has them, and what comes of a step."""

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

    def _days(self) -> ShopDays:
        return shop_days.of_shop(self.store, self.shop)
