"""Already further along: what was skipped is not asked again."""

from __future__ import annotations

from fitcounter.desk.bench import catch_up_skipped_steps
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.store import works
from fitcounter.store.database import Act, Store


def test_further_along_to_the_shelf_takes_its_work_with_it(
    store: Store, act: Act, choices: Shop, job
):
    with store.write_tx():
        row = {"ticket_id": job.ticket_id, "what": "Heel tips", "timing": "any", "days": 1}
        works.add(store, act, (job.left,), **row)
    catch_up_skipped_steps.further_along(
        store, act, choices, job.left, "shelved", StepInput(act.at)
    )
    assert {one.what: one.state for one in works.of_item(store, job.left)} == {"Heel tips": "done"}
