"""What a customer wants, and what became of the e-mails of a ticket, in words."""

from __future__ import annotations

from support.ticket_rows import Job

from fitcounter.desk.messages import mail_wanted
from fitcounter.store import mails
from fitcounter.store.database import Act, Store


def test_a_ticket_says_of_each_e_mail_how_it_stands(store: Store, act: Act, job: Job):
    with store.write_tx():
        mails.add(store, job.ticket_id, "claim", "claim-1", act.at, act.at)
        mails.add(store, job.ticket_id, "ready", "ready-1", act.at, act.at)
    first, _ = mails.QUEUE.due(store, act.at, 2)
    mails.QUEUE.finish(store, first, "given-up", act.at, "refused")
    lines = [
        (one.kind, one.stands, one.fault) for one in mail_wanted.of_ticket(store, job.ticket_id)
    ]
    assert lines == [
        (
            "Claim check, after the agreement",
            "not delivered",
            "The mail server refused this address.",
        ),
        ("Ready to pick up", "waiting to be sent", ""),
    ]


def test_stopped_twice_and_allowed_once_is_allowed(store: Store, act: Act, job: Job):
    for _ in range(2):
        mail_wanted.stop(store, act, job.ticket_id)
    assert mail_wanted.is_stopped(store, job.ticket_id)
    mail_wanted.allow(store, act, job.ticket_id)
    assert not mail_wanted.is_stopped(store, job.ticket_id)
