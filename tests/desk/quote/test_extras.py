"""Jobs for what was seen, each an entry of the list of work with its price."""

from __future__ import annotations

from support.ticket_rows import Job

from fitcounter.desk.common.usual_work import USUAL
from fitcounter.desk.quote import extras, price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.store import findings, items
from fitcounter.store.database import Act, Store


def test_every_job_is_on_the_list_of_work():
    assert set(extras.CODES) == set(extras.JOBS)
    assert set(extras.CODES.values()) <= set(USUAL)


def test_both_boots_are_offered_together_at_twice_the_price_of_the_list(
    store: Store, act: Act, job: Job
):
    entry = EntryInput(what="Heel tips", price_minor=900)
    price_list.save(store, act, "heel-tips", entry)
    with store.write_tx():
        for item_id in (job.left, job.right):
            findings.add(store, act, item_id, "heel-worn")
        findings.add(store, act, job.right, "scuffs")
    held = items.of_ticket(store, job.ticket_id)
    seen = [one for item in held for one in findings.of_item(store, item.id)]
    tips, scuffs = extras.offered(store, held, seen)
    assert (tips.line, tips.price_minor) == ("New heel tips, both boots", 1800)
    assert (scuffs.line, scuffs.price_minor) == ("Scuffs recolored, right boot", None)
