"""A customer stops e-mails in one tap, and the shop sees it."""

from __future__ import annotations

import pytest
from flask import Flask
from support.cast import Counter
from support.mail_server import USER
from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.desk.customer import link_new_or_closed as customer_link
from fitcounter.desk.messages import mail_account, mail_wanted
from fitcounter.store import erasing, mails, tickets
from fitcounter.store.database import Act, Store


def test_a_mail_program_stops_them_with_one_post_and_opening_the_page_changes_nothing(
    app: Flask, stranger: Counter, store: Store, job: Job, token: str, clock
):
    """RFC 8058: no cookie, no token of a form, the body it says; twice is once."""
    customer_id = tickets.get(store, job.ticket_id).customer_id
    assert "Stop e-mails?" in stranger.get(f"/c/{token}/mail").text
    assert not mails.is_stopped(store, customer_id)
    for _ in range(2):
        answer = app.test_client().post(f"/c/{token}/mail", data={"List-Unsubscribe": "One-Click"})
        assert answer.status_code == 200
    assert mails.is_stopped(store, customer_id)
    assert "sends you no more e-mails" in stranger.get(f"/c/{token}/mail").text
    wrong = app.test_client().post(f"/c/{'A' * 22}/mail", data={"List-Unsubscribe": "One-Click"})
    assert wrong.status_code == 404


def test_the_counter_sees_that_they_are_stopped_and_sends_them_again_when_asked(
    counter: Counter, store: Store, job: Job, token: str, tmp_path, clock
):
    act = Act(clock.now, 1)
    account = mail_account.TypedAccount(
        host="localhost",
        port="465",
        security="tls",
        user="",
        sender=USER,
        password="",
        kinds=("ready",),
    )
    mail_account.keep(store, act, account, tmp_path)
    page = f"/tickets/{job.ticket_id}/link"
    counter.get(page)
    counter.post(f"/tickets/{job.ticket_id}/mail", wish="stop")
    assert mail_wanted.is_stopped(store, job.ticket_id)
    assert "This customer wants no e-mails." in counter.get(page).text
    counter.post(f"/tickets/{job.ticket_id}/mail", wish="again")
    assert not mail_wanted.is_stopped(store, job.ticket_id)
    assert "Stop e-mails to this customer" in counter.get(page).text


def test_what_nobody_got_stands_under_today_until_somebody_calls(
    counter: Counter, store: Store, job: Job, clock
):
    with store.write_tx():
        mails.add(store, job.ticket_id, "ready", "ready-1", clock.now, clock.now)
    (mail,) = mails.QUEUE.due(store, clock.now, 1)
    mails.QUEUE.finish(store, mail, "given-up", clock.now, "refused")
    page = counter.get("/").text
    assert "E-mails not delivered" in page
    assert "The mail server refused this address." in page
    clock.on(minutes=1)
    counter.get(f"/tickets/{job.ticket_id}/call")
    counter.post(f"/tickets/{job.ticket_id}/call", how="called")
    assert "E-mails not delivered" not in counter.get("/").text


@pytest.mark.parametrize("later", ["a new link", "switched off", "over"])
def test_the_stop_of_an_older_e_mail_still_works(
    app: Flask,
    stranger: Counter,
    store: Store,
    job: Job,
    token: str,
    clock,
    tmp_path,
    later: str,
):
    """The page itself opens no more, and the answer does not lead to it."""
    ticket, act = tickets.get(store, job.ticket_id), Act(clock.now, 1)
    if later == "a new link":
        customer_link.renew(store, act, shop.read(store), ticket.id, tmp_path)
    elif later == "switched off":
        customer_link.take_back(store, act, ticket.id)
    else:
        with store.write_tx():
            store.change("tickets", ticket.id, link_until="2026-01-01T00:00:00Z")
    assert stranger.get(f"/c/{token}").status_code in (404, 410)
    answer = app.test_client().post(f"/c/{token}/mail", data={"List-Unsubscribe": "One-Click"})
    assert answer.status_code == 200
    assert f'href="/c/{token}"' not in answer.text
    assert mails.is_stopped(store, ticket.customer_id)
    with store.write_tx():
        erasing.clear(store, act, ticket.customer_id)
    assert app.test_client().get(f"/c/{token}/mail").status_code == 404
