"""Both boots on the shelf, the bag still at the bench until Thursday."""

from __future__ import annotations

from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store.database import Act, Store


def two_boots_shelved(store: Store, act: Act) -> Job:
    """Both boots on the shelf, the bag still at the bench until Thursday."""
    made = make_job(store, act)
    for item_id in (made.left, made.right):
        catch_up(
            store,
            act,
            item_id,
            "shelved",
            StepInput(act.at, columns={"shelf": "C2"}),
        )
    with store.write_tx():
        store.change("items", made.bag, promised_day="2026-03-19")
    return made
