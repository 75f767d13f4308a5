"""What the file says of how boots felt, by leather, rounds and wear."""

from __future__ import annotations

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import feelings, learnt
from fitcounter.store.database import Act, Store
from fitcounter.store.feelings import Feeling
from fitcounter.store.learnt import FeltAfter


def test_feelings_are_counted_by_leather_rounds_and_wear(store: Store, clock: Clock):
    """Each boot by itself; an extra wear is none of the calendar's and is left out."""
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        store.change("items", job.left, material="goat")
        store.change("items", job.right, material="oiled")
        ended = {"on_at": "2026-03-10T10:00:00Z", "off_at": "2026-03-12T10:00:00Z"}
        store.insert("rounds", item_id=job.left, n=1, **ended)
        for side, n, feel in (("left", 1, "good"), ("left", 2, "sore"), ("right", 1, "good")):
            feelings.put(store, act, job.ticket_id, Feeling(n, f"2026-03-1{n}", side, feel))
        feelings.put(store, act, job.ticket_id, Feeling(0, "2026-03-19", "left", "good"))
    assert learnt.felt_after_wears(store) == [
        FeltAfter("goat", 1, 1, told=1, good=1),
        FeltAfter("goat", 1, 2, told=1, good=0),
        FeltAfter("oiled", 0, 1, told=1, good=1),
    ]
