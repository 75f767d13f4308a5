"""The customer's link as the counter's page shows it."""

from __future__ import annotations

from pathlib import Path

from support.cast import Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk.quote import agree
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Store


def token_on(counter: Counter, job: Job) -> str:
    """The token of the address on the counter's page, "" where none is shown."""
    text = counter.get(f"/tickets/{job.ticket_id}/link").text
    return text.partition("/c/")[2][:22] if "/c/" in text else ""


def agreed_job(store: Store, act: Act, data_dir: Path) -> Job:
    """An agreed job: it has tags and its first link."""
    job = make_job(store, act)
    with store.write_tx():
        here = items.of_ticket(store, job.ticket_id)
        ticket = tickets.get(store, job.ticket_id)
        agree.open_for_asking(store, act, ticket, agree.TicketOpening(items=here), data_dir)
    return job
