"""E-mails on their way, by a real mail server: each event once, tried again, given up, stopped."""

from __future__ import annotations

import random
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from support.cast import Clock
from support.killed_sender import killed_after, killed_before_noting
from support.mail_server import PASSWORD, MailServer, certificate_for, mail_server
from support.ticket_rows import Job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.messages import mail_account, mail_post, mail_wanted
from fitcounter.desk.messages.mail_retries import MailPlace, send_due
from fitcounter.desk.shop import Shop
from fitcounter.errors import Unavailable
from fitcounter.papers import pdf
from fitcounter.store import erasing, mails, tickets
from fitcounter.store.database import Act, Store, utc_time

pytestmark = pytest.mark.usefixtures("account")


def shelve(store: Store, act: Act, job: Job) -> None:
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))


@pytest.fixture
def ready(store: Store, act: Act, clock: Clock, marisol: Job) -> Job:
    """All of it is on the shelf, and nobody has changed their mind for ten minutes."""
    shelve(store, act, marisol)
    clock.on(minutes=11)
    return marisol


def states(store: Store, job: Job) -> list[tuple[str, str, str]]:
    return [(one.kind, one.state, one.fault) for one in mails.QUEUE.of_ticket(store, job.ticket_id)]


def test_ready_goes_out_once_in_two_forms_and_can_be_stopped_in_one_tap(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock
):
    """RFC 8058's two headers, RFC 5322's Message-ID; the same words in plain text and in HTML."""
    assert [send_due(place, clock.now), send_due(place, clock.on(days=1))] == [1, 0]
    (message,) = server.received
    assert states(store, ready) == [("ready", "sent", "")]
    assert message["To"] == "marisol@example.net"
    assert message["From"] == "Quillmarsh Leather Bench <shop@example.org>"
    assert message["Subject"] == "Ready to pick up (ticket 1)"
    assert message["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    stop = message["List-Unsubscribe"].strip("<>")
    assert stop.startswith("https://boots.example.org/c/")
    assert stop.endswith("/mail")
    plain = message.get_body(("plain",)).get_content()
    html = message.get_body(("html",)).get_content()
    assert "Everything is ready for you (ticket 1)." in plain
    assert f"See where your order is: {stop.removesuffix('/mail')}\r\n" in plain
    assert f'<a href="{stop}">' in html
    assert "<img" not in html
    assert "http" not in html.replace("https://boots.example.org/c/", "")


class NoPress:
    """A process for papers that gives no answer."""

    def do(self, *_: object) -> object:
        raise Unavailable("no papers here")


@pytest.mark.parametrize("papers", [False, pytest.param(True, marks=pytest.mark.slow)])
def test_the_calendar_comes_with_its_paper_and_its_file_in_the_customers_language(
    store: Store,
    server: MailServer,
    place: MailPlace,
    ready: Job,
    choices: Shop,
    clock: Clock,
    monkeypatch: pytest.MonkeyPatch,
    papers: bool,
):
    """Where no paper can be made, the file comes all the same."""
    if not papers:
        monkeypatch.setattr(pdf, "PRESS", NoPress())
    with store.write_tx():
        store.change("customers", tickets.get(store, ready.ticket_id).customer_id, language="es")
    things = frozenset({ready.left, ready.right, ready.bag})
    handed = pickup.Handover(things, clock.now, "Marisol", preset="three-short-wears", hour=18)
    pickup.hand_over(store, Act(clock.now, 1), ready.ticket_id, handed, choices)
    assert send_due(place, clock.now) == 1, "what is picked up is not ready any more"
    (message,) = server.received
    assert message["Subject"] == "Amoldar tus botas (encargo 1)"
    assert message["Content-Language"] == "es"
    came = {one.get_filename(): one.get_content() for one in message.iter_attachments()}
    assert papers == ("boots-calendar.pdf" in came)
    assert came.get("boots-calendar.pdf", b"%PDF-").startswith(b"%PDF-")
    assert "BEGIN:VEVENT" in came["boots-calendar.ics"]
    assert "Tu calendario para amoldarlas: https://" in message.get_body(("plain",)).get_content()


@pytest.mark.parametrize(
    ("mode", "fault"),
    [
        ("full", "not-now"),
        ("drops", "no-answer"),
        ("slow", "no-answer"),
        ("busy", "not-now"),
    ],
)
def test_what_a_server_does_not_take_is_tried_again_and_goes_out_once(
    store: Store,
    server: MailServer,
    place: MailPlace,
    ready: Job,
    clock: Clock,
    monkeypatch: pytest.MonkeyPatch,
    mode: str,
    fault: str,
):
    """A full mailbox, a line that drops in the middle, an answer that does not come, a busy one."""
    monkeypatch.setattr(mail_post, "WAIT_S", 0.3)
    server.mode = mode
    assert send_due(place, clock.now) == 0
    assert states(store, ready) == [("ready", "waiting", fault)]
    assert mail_wanted.fault_words(fault)
    server.mode = "takes"
    assert send_due(place, clock.on(minutes=4)) == 0, "it waits before it is tried again"
    server.received.clear()
    assert send_due(place, clock.on(minutes=2)) == 1
    assert states(store, ready) == [("ready", "sent", "")]
    assert len(server.received) == 1


def test_the_waits_grow_and_after_three_days_the_counter_is_told(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock
):
    server.mode = "busy"
    tries, since = [], clock.now
    while (last := mails.QUEUE.of_ticket(store, ready.ticket_id)[0]).state == "waiting":
        before = last.tries
        send_due(place, clock.now)
        if mails.QUEUE.of_ticket(store, ready.ticket_id)[0].tries > before:
            tries.append(clock.now - since)
        clock.now = max(clock.now, utc_time(last.next_at))
    waits = [later - earlier for earlier, later in pairwise(tries)]
    assert waits == sorted(waits)
    assert len(tries) == 11
    assert timedelta(days=3) <= tries[-1] < timedelta(days=3, hours=12)
    assert states(store, ready) == [("ready", "given-up", "not-now")]
    (line,) = mail_wanted.undelivered(store, clock.now)
    assert line.ticket.id == ready.ticket_id
    assert line.words == "Ready to pick up. The mail server cannot take it now."


def test_an_address_that_nobody_has_is_given_up_at_once(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock
):
    server.mode = "refuses"
    assert send_due(place, clock.now) == 0
    assert states(store, ready) == [("ready", "given-up", "refused")]


@pytest.mark.parametrize("how", ["stopped", "erased", "no address"])
def test_nothing_goes_out_once_it_is_stopped_or_the_customer_is_erased(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock, how: str
):
    act = Act(clock.now, 3)
    customer_id = tickets.get(store, ready.ticket_id).customer_id
    if how == "stopped":
        mail_wanted.stop(store, act, ready.ticket_id)
    else:
        with store.write_tx():
            if how == "erased":
                erasing.clear(store, act, customer_id)
            else:
                store.change("customers", customer_id, email="a@example.net\nBcc: b@example.net")
    assert send_due(place, clock.on(hours=1)) == 0
    assert (server.received, server.tried) == ([], 0)
    assert states(store, ready) == [("ready", "dropped", "")]


@pytest.mark.parametrize(
    ("wrong", "fault"),
    [
        ("no TLS", "no-tls"),
        ("no TLS at all", "no-tls"),
        ("a stranger's certificate", "certificate"),
        ("another password", "sign-in"),
        ("nobody there", "no-answer"),
    ],
)
def test_without_tls_a_certificate_or_the_password_nothing_is_said(
    store: Store,
    act: Act,
    place: MailPlace,
    ready: Job,
    clock: Clock,
    tmp_path: Path,
    server: MailServer,
    monkeypatch: pytest.MonkeyPatch,
    wrong: str,
    fault: str,
):
    """Neither the password nor a word of the message goes over a line that others can read."""
    monkeypatch.setattr(mail_post, "WAIT_S", 2)
    typed = mail_account.TypedAccount(
        host="localhost",
        port=str(server.port if wrong != "nobody there" else 1),
        security="tls" if wrong == "no TLS at all" else "starttls",
        user="shop@example.org",
        sender="shop@example.org",
        password="not this one" if wrong == "another password" else PASSWORD,
        kinds=("ready",),
    )
    if wrong == "a stranger's certificate":
        monkeypatch.setenv("SSL_CERT_FILE", str(certificate_for(tmp_path / "strange")[1]))
    with mail_server(None) as plain:
        if wrong.startswith("no TLS"):
            typed = mail_account.TypedAccount(
                **{
                    name: getattr(typed, name)
                    for name in ("host", "security", "user", "sender", "password", "kinds")
                },
                port=str(plain.port),
            )
        mail_account.keep(store, Act(act.at, 3), typed, tmp_path)
        assert send_due(place, clock.now) == 0
        assert (plain.received, plain.tried) == ([], 0)
    assert states(store, ready) == [("ready", "waiting", fault)]
    assert server.received == []


def test_two_threads_at_the_queue_send_it_once(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock
):
    """Both have read the same row; the one that is second takes nothing."""
    (mail,) = mails.QUEUE.due(store, clock.now, 9)
    assert mails.QUEUE.take(store, mail, clock.now + timedelta(minutes=5))
    assert not mails.QUEUE.take(store, mail, clock.now + timedelta(minutes=5))


def test_a_clock_that_leapt_holds_nothing_back_for_good(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock
):
    """Tried by a clock that was years ahead; put right, it does not wait for years."""
    server.mode = "busy"
    send_due(place, clock.on(days=900))
    server.mode = "takes"
    clock.on(days=-900)
    assert states(store, ready) == [("ready", "waiting", "not-now")]
    assert send_due(place, clock.now) == 1


def test_killed_between_sending_and_noting_it_comes_twice_at_most_and_is_never_lost(
    store: Store,
    server: MailServer,
    place: MailPlace,
    ready: Job,
    clock: Clock,
):
    """The second one has the Message-ID of the first, so that mail programs may show one."""
    send_due(place, clock.now)
    for n in range(3):
        with store.write_tx():
            mails.add(store, ready.ticket_id, "ready", f"ready-{n}", clock.now, clock.now)
        server.received.clear()
        killed_before_noting(lambda: send_due(place, clock.now))
        assert send_due(place, clock.on(minutes=6)) == 1
        assert send_due(place, clock.on(days=1)) == 0
        names = {one["Message-ID"] for one in server.received}
        assert (len(server.received), len(names)) == (2, 1)
    assert {one.state for one in mails.QUEUE.of_ticket(store, ready.ticket_id)} == {"sent"}


@pytest.mark.parametrize("kills", [4, pytest.param(400, marks=pytest.mark.slow)])
def test_killed_at_any_moment_of_sending_nothing_is_lost_and_little_comes_twice(
    store: Store, server: MailServer, place: MailPlace, ready: Job, clock: Clock, kills: int
):
    """Moments drawn over the whole of one sending, from the file's first reading to the note."""
    send_due(place, clock.now)
    drawn, struck, mailed, twice = random.Random(18), 0, 0, 0
    while struck < kills:
        mailed += 1
        with store.write_tx():
            mails.add(store, ready.ticket_id, "ready", f"ready-{mailed}", clock.now, clock.now)
        server.received.clear()
        struck += killed_after(lambda: send_due(place, clock.now), drawn.uniform(0, 0.12))
        send_due(place, clock.on(minutes=6))
        assert send_due(place, clock.on(days=1)) == 0
        assert 1 <= len(server.received) <= 2, "lost, or more than one repetition"
        assert len({one["Message-ID"] for one in server.received}) == 1
        twice += len(server.received) == 2
    assert {one.state for one in mails.QUEUE.of_ticket(store, ready.ticket_id)} == {"sent"}
    print(f"{struck} kills in {mailed} e-mails: 0 lost, {twice} came twice")
