"""How messages to phones go, in one line."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job

from fitcounter.desk.health import push as push_health
from fitcounter.store import push_phones, pushes, settings
from fitcounter.store.database import Act, Store
from fitcounter.store.push_phones import NewPushPhone
from fitcounter.store.pushes import NewPush


@pytest.mark.parametrize(
    ("fault", "todo"),
    [("keys", "Is this computer’s clock right?"), ("gone", ""), ("", "")],
)
def test_off_says_what_customers_do_and_on_says_how_it_goes(
    store: Store, act: Act, job: Job, fault: str, todo: str
):
    assert push_health.look(store).words.endswith("or set a kitchen timer")
    new = NewPushPhone(ticket_id=job.ticket_id, endpoint="https://p.example/", p256dh="p", auth="a")
    with store.write_tx():
        settings.put(store, "push", {"on": True, "hosts": []})
        held = push_phones.add(store, new, act.at)
        pushes.add(store, held, NewPush(job.ticket_id, "answered", "a-1"), act.at)
    assert push_health.look(store).words == "1 phone gets them"
    (push,) = pushes.QUEUE.due(store, act.at, 1)
    pushes.QUEUE.take(store, push, act.at)
    pushes.QUEUE.finish(store, push, "given-up" if fault else "sent", act.at, fault)
    line = push_health.look(store)
    assert line.todo.endswith(todo)
    assert bool(line.todo) == bool(todo)
    assert ("last sent" in line.words) == (not fault)
