"""The form of a customer's details, as somebody changes it."""

from __future__ import annotations

from support.counter_forms import fresh
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store import customers, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Customer

HER = {
    "name": "Marisol Okafor-Lind",
    "phone": "(555) 010-0142",
    "email": "",
    "language": "en",
    "note": "",
}


RIGHT = {
    "name": "Maryse Ó Briain",
    "phone": "(412) 555-0177",
    "email": "maryse+boots@example.org",
    "language": "es",
    "note": "call after five",
}


def page_of(job: Job) -> str:
    return f"/tickets/{job.ticket_id}/details"


def her(store: Store, job: Job) -> Customer:
    return customers.get(store, tickets.get(store, job.ticket_id).customer_id)


def form(store: Store, job: Job, **changes: object) -> dict[str, object]:
    """The form as the page shows it, with what somebody typed over it."""
    return {"submission_id": fresh(), "version": her(store, job).version, **HER, **changes}


def shelved_job(store: Store, act: Act) -> Job:
    """All of it on the shelf, so that she is to be called."""
    made = make_job(store, act)
    for item_id in (made.left, made.right, made.bag):
        catch_up(
            store,
            act,
            item_id,
            "shelved",
            StepInput(act.at, columns={"shelf": "C2"}),
        )
    return made
