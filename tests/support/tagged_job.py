"""An invented job with a tag on each item."""

from __future__ import annotations

from support.ticket_rows import Job, make_job

from fitcounter.desk.tags.attach import tag_items
from fitcounter.store import items, tags, tickets
from fitcounter.store.database import Act, Store


def code_of(store: Store, item_id: int) -> str:
    tag = tags.of_item(store, item_id)
    assert tag is not None
    return tag.code


def tagged_job(store: Store, act: Act) -> Job:
    job = make_job(store, act)
    with store.write_tx():
        tag_items(
            store, act, tickets.get(store, job.ticket_id), items.of_ticket(store, job.ticket_id), {}
        )
    return job
