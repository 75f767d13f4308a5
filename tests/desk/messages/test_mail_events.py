"""Which e-mails are queued: by a change, by a day, and by no account none."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cast import Clock
from support.mail_server import MailServer
from support.ticket_rows import Job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.messages import mail_account
from fitcounter.desk.messages.mail_retries import MailPlace, send_due
from fitcounter.desk.shop import choose
from fitcounter.store import mails
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.usefixtures("account")


def shelve(store: Store, act: Act, job: Job) -> None:
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))


def test_a_step_that_is_undone_within_ten_minutes_is_not_told(
    store: Store, server: MailServer, place: MailPlace, marisol: Job, act: Act, clock: Clock
):
    shelve(store, act, marisol)
    with store.write_tx():
        store.change("items", marisol.bag, state="working")
    assert send_due(place, clock.on(minutes=11)) == 0
    assert [one.state for one in mails.QUEUE.of_ticket(store, marisol.ticket_id)] == ["dropped"]


def test_without_an_account_nothing_is_queued(
    store: Store, act: Act, marisol: Job, place: MailPlace, tmp_path: Path, clock: Clock
):
    typed = mail_account.TypedAccount(
        host="", port="", security="", user="", sender="", password="", kinds=()
    )
    mail_account.keep(store, Act(act.at, 3), typed, tmp_path)
    shelve(store, act, marisol)
    assert mails.QUEUE.of_ticket(store, marisol.ticket_id) == []
    assert send_due(place, clock.on(hours=1)) == 0


def test_what_falls_due_by_the_day_is_queued_once(
    store: Store, server: MailServer, place: MailPlace, marisol: Job, clock: Clock, act: Act
):
    """Late, and then the guarantee that ends within two weeks."""
    choose(store, Act(act.at, 3), hours="12")
    with store.write_tx():
        store.change("tickets", marisol.ticket_id, promise_day="2026-03-16")
        for item_id in (marisol.left, marisol.right, marisol.bag):
            store.change("items", item_id, promised_day="2026-03-16")
    assert send_due(place, clock.now, look_for_due=True) == 1
    assert send_due(place, clock.on(hours=2), look_for_due=True) == 0
    (late,) = server.received
    assert late["Subject"] == "Your order will be late (ticket 1)"
    with store.write_tx():
        store.change("tickets", marisol.ticket_id, state="out", guarantee_end="2026-03-25")
    assert send_due(place, clock.now, look_for_due=True) == 1
    text = server.received[-1].get_body(("plain",)).get_content()
    assert "Your guarantee ends on" in text
