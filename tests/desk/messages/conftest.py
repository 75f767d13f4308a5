"""A shop with a mail account on a real mail server, and a customer with an address."""

from __future__ import annotations

import ssl
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from support import push_service
from support.mail_server import PASSWORD, MailServer, certificate_for, mail_server
from support.push_service import Phone, PushService
from support.ticket_rows import Job

from fitcounter.desk.common import link_token
from fitcounter.desk.messages import mail_account, push_asked_by_phone, push_post
from fitcounter.desk.messages.mail_account import KINDS, TypedAccount
from fitcounter.desk.messages.mail_retries import MailPlace
from fitcounter.store import settings, tickets
from fitcounter.store.database import Act, Store

Tls = tuple[ssl.SSLContext, Path]


@pytest.fixture(scope="session")
def tls(tmp_path_factory: pytest.TempPathFactory) -> Tls:
    return certificate_for(tmp_path_factory.mktemp("mail-certificate"))


@pytest.fixture
def trusted(tls: Tls, monkeypatch: pytest.MonkeyPatch) -> None:
    """This machine knows the authority of the mail server."""
    monkeypatch.setenv("SSL_CERT_FILE", str(tls[1]))


@pytest.fixture
def server(tls: Tls, trusted: None) -> Iterator[MailServer]:
    with mail_server(tls[0]) as made:
        yield made


@pytest.fixture
def place(tmp_path: Path) -> MailPlace:
    return MailPlace(tmp_path, "https://boots.example.org")


def open_account(store: Store, act: Act, server: MailServer, folder: Path) -> None:
    """Everything is switched on."""
    typed = {**asdict(server.account), "port": str(server.port), "kinds": tuple(KINDS)}
    account = TypedAccount(**typed, password=PASSWORD)
    mail_account.keep(store, replace(act, submission_id=None), account, folder)


@pytest.fixture
def account(store: Store, act: Act, server: MailServer, tmp_path: Path) -> None:
    open_account(store, act, server, tmp_path)


@pytest.fixture
def marisol(store: Store, job: Job, tmp_path: Path) -> Job:
    """The job of a customer with an address and an open link."""
    ticket = tickets.get(store, job.ticket_id)
    token = link_token.link_token(link_token.link_key(tmp_path), ticket)
    with store.write_tx():
        store.change("customers", ticket.customer_id, email="marisol@example.net")
        until = "2027-12-31T00:00:00Z"
        store.change("tickets", ticket.id, link_hash=link_token.link_hash(token), link_until=until)
    return job


@pytest.fixture(scope="session")
def push_tls(tmp_path_factory: pytest.TempPathFactory) -> Tls:
    return push_service.certificate_for(tmp_path_factory.mktemp("push-certificate"))


@pytest.fixture
def service(store: Store, push_tls: Tls, monkeypatch: pytest.MonkeyPatch) -> Iterator[PushService]:
    """A push service that the owner has on the list, found on the loopback."""
    monkeypatch.setenv("SSL_CERT_FILE", str(push_tls[1]))
    with store.write_tx():
        settings.put(store, "push", {"on": True, "hosts": [push_service.HOST]})
    with push_service.push_service(push_tls[0]) as made:
        monkeypatch.setattr(push_post, "public_addresses", lambda _: [("127.0.0.1", made.port)])
        yield made


@pytest.fixture
def worn(store: Store, home: Job, tmp_path: Path) -> Job:
    """The job of a customer who has the boots at home since ten, and an open link."""
    ticket = tickets.get(store, home.ticket_id)
    token = link_token.link_token(link_token.link_key(tmp_path), ticket)
    with store.write_tx():
        until = "2027-12-31T00:00:00Z"
        store.change("tickets", ticket.id, link_hash=link_token.link_hash(token), link_until=until)
    return home


@pytest.fixture
def phone(store: Store, act: Act, service: PushService, worn: Job) -> Phone:
    """The customer's phone, which asked for messages."""
    made = service.phone()
    push_asked_by_phone.ask_for_ticket(store, act, worn.ticket_id, made.typed, "en")
    return made


@pytest.fixture
def staff_phone(store: Store, act: Act, service: PushService) -> Phone:
    made = service.phone()
    push_asked_by_phone.ask_for_staff(store, act, made.typed)
    return made
