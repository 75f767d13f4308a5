"""The money of one ticket through a week of the front desk, and the till at its end."""

from __future__ import annotations

import re
from html import unescape

from support.cast import Clock, Counter
from support.counter_forms import fresh, value
from support.ticket_rows import make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store import bills, items, tills
from fitcounter.store.database import Act, Store


def shown(page: str, *names: str) -> dict[str, object]:
    """What the page sends when nothing on it is touched."""
    lines = re.findall(r'name="(line_\w+)"[^>]*? value="([^"]*)"', page)
    more = {name: value(page, name) for name in ("version", *names)}
    return {**{name: unescape(text) for name, text in lines}, **more, "submission_id": fresh()}


def test_found_priced_by_phone_fetched_by_the_spouse_cancelled_paid_and_closed(
    counter: Counter, store: Store, clock: Clock
):
    act = Act(clock.now, 1)
    job = make_job(store, act)
    catch_up(store, act, job.left, "shelved", StepInput(act.at, columns={"shelf": "C2"}))
    ticket = f"/tickets/{job.ticket_id}"
    assert "Marisol Okafor-Lind" in counter.get("/find?q=lind+marisol").text

    line = bills.lines(store, job.ticket_id)[0].id
    typed = {f"line_{line}_amount": "120", "why": "a third round", "yes": "phone"}
    price = shown(counter.get(f"{ticket}/price").text, "name")
    assert counter.post(f"{ticket}/price", **{**price, **typed}).status_code == 303

    page = f"/pickup/{job.ticket_id}"
    took = {"items": [str(job.left)], "part": "y", "collected_by": "Tobias", "method": "later"}
    sent = {**took, "preset": "three-short-wears", "evening": "19:00"}
    counter.get(page)
    assert counter.post(page, **sent).status_code == 303
    (handover,) = tills.handovers(store, job.ticket_id)
    assert handover.collected_by == "Tobias"
    assert len(bills.payments(store, job.ticket_id)) == 1

    stale = shown(counter.get(f"{ticket}/price").text, "name")
    cancel = {**shown(counter.get(f"{ticket}/cancel").text), "why": "customer", "charge": "80"}
    assert counter.post(f"{ticket}/cancel", **cancel).status_code == 303
    assert items.get(store, job.right).state == "declined"
    before = bills.lines(store, job.ticket_id)
    late = counter.post(f"{ticket}/price", **stale, discount="5", discount_why="late")
    assert late.status_code == 409, "somebody cancelled it while the price was typed"
    assert bills.lines(store, job.ticket_id) == before

    due = store.value("SELECT due_minor FROM tickets WHERE id = ?", job.ticket_id)
    counter.get(ticket)
    paid = {"what": "payment", "amount": f"{due / 100:.2f}", "method": "card"}
    assert counter.post(f"{ticket}/money", **paid).status_code == 303
    till = counter.get("/till").text
    count = {"change": "0", "counted_cash": "0", "counted_card": f"{due / 100:.2f}"}
    count |= {"counted_unsaid": "30", "seen": value(till, "seen"), "submission_id": fresh()}
    assert counter.post("/till", **count).status_code == 303
    assert "Right to the cent." in counter.get("/till").text
