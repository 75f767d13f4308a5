"""Work as price lines: named by its boots, billed when it is agreed, given up when it is not."""

from __future__ import annotations

from support.ticket_rows import Job, make_job

from fitcounter.desk.quote import work_lines
from fitcounter.store import bills, items, works
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store


def asked(store: Store, act: Act, job: Job, what: str, *item_ids: int) -> int:
    with store.write_tx():
        row = {"ticket_id": job.ticket_id, "what": what, "timing": "any", "amount_minor": 700}
        return works.add(store, act, item_ids, **row)


def test_a_line_says_on_which_boots_and_is_kept_with_its_work(store: Store, act: Act):
    job = make_job(store, act, state="counter")
    tips = asked(store, act, job, "Heel tips", job.left, job.right)
    asked(store, act, job, "Dyed", job.left)
    asked(store, act, job, "Waterproofed", job.bag)
    held = items.of_ticket(store, job.ticket_id)
    lines = work_lines.asked_lines(store, job.ticket_id, held)
    assert [(one.what, one.amount_minor, len(one.item_ids)) for one in lines] == [
        ("Heel tips, both boots", 700, 2),
        ("Dyed, left boot", 700, 1),
        ("Waterproofed, tan bag", 700, 1),
    ]
    with store.write_tx():
        line_id = bills.add_line(store, job.ticket_id, NewLine(lines[0].what, "job", 700))
        work_lines.keep(store, act, job.ticket_id, lines[0], line_id)
        work_lines.leave_out(store, act, lines, {tips})
    assert works.get(store, tips).line_id == line_id
    found = {one.what: one.state for one in works.lines_of_ticket(store, job.ticket_id)}
    assert found == {"Heel tips": "waiting", "Dyed": "not-done", "Waterproofed": "not-done"}
    assert work_lines.asked_lines(store, job.ticket_id, held) == []
