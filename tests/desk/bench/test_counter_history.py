"""What the counter did about an item stands among the steps of its history."""

from __future__ import annotations

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.bench import item_page
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import calls_and_reminders, pickup
from fitcounter.desk.front_desk.pickup import Handover
from fitcounter.store.database import Act, Store


def test_calls_and_who_picked_it_up_are_in_a_boots_history(store: Store, clock: Clock):
    job = make_job(store, Act(clock.now, 1))
    choices = shop.read(store)
    catch_up(store, Act(clock.now, 2), job.left, "shelved", StepInput(clock.now))
    called = Act(clock.on(hours=1), 1)
    calls_and_reminders.keep(store, called, choices, job.ticket_id, "called", "comes on Friday")
    out = Act(clock.on(hours=1), 1)
    boot = Handover(frozenset((job.left,)), out.at, "Tobias", part=True)
    pickup.hand_over(store, out, job.ticket_id, boot, choices)

    def heads(item_id: int) -> list[tuple[str, str, str]]:
        history = item_page.look(store, choices, item_id).history
        return [(one.head, one.text, one.who) for one in history]

    assert heads(job.left)[:3] == [
        ("Picked up by Tobias", "", "Cora"),
        ("Handed over", "", "Cora"),
        ("Told", "comes on Friday", "Cora"),
    ]
    assert "Picked up by Tobias" not in [head for head, _, _ in heads(job.right)]
    assert heads(job.right)[0] == ("Told", "comes on Friday", "Cora")
