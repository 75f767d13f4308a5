"""Both boots tried on in one tap are one write: where the disk fails between the two, neither is
down as tried on.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cast import Clock
from support.disk_faults import Fault, failing
from support.disk_trouble import content
from support.ticket_rows import make_job

from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.errors import NoRoom, Unavailable
from fitcounter.store import items
from fitcounter.store.database import Act, Store


@pytest.mark.parametrize(("kind", "error"), [("full", NoRoom), ("broken", Unavailable)])
def test_both_boots_are_tried_on_or_neither_wherever_the_disk_fails(
    store: Store,
    tmp_path: Path,
    clock: Clock,
    monkeypatch: pytest.MonkeyPatch,
    kind: str,
    error: type[Exception],
) -> None:
    act = Act(clock.now, 1, None, "both-on-0001", "body")
    job = make_job(store, act, state="shelved")
    before, failed = content(store), 0
    while True:
        with failing(monkeypatch, Fault(failed + 1, kind, False)):
            opened = Store(tmp_path / "shop.db")
            try:
                pickup.try_on_all(opened, act, job.ticket_id, "fits", StepInput(clock.now))
                break
            except error:
                assert content(store) == before
                failed += 1
            finally:
                opened.close()
    boots = [items.get(store, one) for one in (job.left, job.right)]
    assert [(one.tried_on, one.version) for one in boots] == [("fits", 2), ("fits", 2)]
    assert failed == 8, (
        "begun, a step and a change for each boot, the audit, the submission, the end; the plan"
        " stands: a boot on the shelf is not in it"
    )
