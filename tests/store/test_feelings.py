"""How a boot felt is kept once a day and boot; another tap changes it."""

from __future__ import annotations

from support.ticket_rows import make_job

from fitcounter.store import feelings
from fitcounter.store.database import Act, Store
from fitcounter.store.feelings import Feeling


def test_another_tap_changes_what_was_kept(store: Store, clock) -> None:
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        for feel in ("good", "tight"):
            feelings.put(store, act, job.ticket_id, Feeling(1, "2026-03-17", "left", feel))
    assert feelings.of_ticket(store, job.ticket_id) == [Feeling(1, "2026-03-17", "left", "tight")]
