"""Jobs on boots as rows: in the order of work, open until done, gone with nothing else."""

from __future__ import annotations

from support.ticket_rows import Job

from fitcounter.store import bills, erasing, tickets, works
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store

AT = "2026-03-17T14:00:00Z"


def add(store: Store, act: Act, job: Job, what: str, timing: str, days: int = 1) -> int:
    with store.write_tx():
        row = {"ticket_id": job.ticket_id, "what": what, "timing": timing, "days": days}
        return works.add(store, act, [job.left], **row)


def test_lines_stand_in_the_order_of_work_and_days_by_before_and_after(
    store: Store, act: Act, job: Job
):
    for what, timing, days in (("dye", "last", 2), ("zip", "after", 3), ("seam", "before", 1)):
        add(store, act, job, what, timing, days)
    assert [one.what for one in works.of_item(store, job.left)] == ["seam", "zip", "dye"]
    assert works.days_of(store) == {job.left: (1, 5)}
    with store.write_tx():
        first = works.of_item(store, job.left)[0]
        works.set_state(store, act, first.id, "done", AT, "")
    assert works.days_of(store) == {job.left: (0, 5)}
    assert [one.what for one in works.all_open(store)[job.left]] == ["zip", "dye"]


def test_a_price_line_that_goes_leaves_the_work_without_one(store: Store, act: Act, job: Job):
    work_id = add(store, act, job, "zip", "after")
    with store.write_tx():
        line_id = bills.add_line(store, job.ticket_id, NewLine("zip", "job", 100))
        works.bill(store, work_id, line_id)
        works.not_wanted(store, act, line_id)
        (line,) = [one for one in bills.lines(store, job.ticket_id) if one.id == line_id]
        bills.remove_line(store, line)
    assert works.get(store, work_id).line_id is None
    assert works.open_of_item(store, job.left) == []


def test_what_was_written_about_somebodys_boots_goes_with_them(store: Store, act: Act, job: Job):
    add(store, act, job, "zip", "after")
    with store.write_tx():
        (line,) = works.of_item(store, job.left)
        works.set_state(store, act, line.id, "done", AT, "she limps")
        erasing.clear(store, act, tickets.get(store, job.ticket_id).customer_id)
    assert works.of_item(store, job.left)[0].note == ""
