"""A real mail server on the loopback, with a certificate of an authority of its own, that takes
what comes or misbehaves as it is told.
"""

from __future__ import annotations

import asyncio
import socket
import ssl
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path
from typing import Any

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, LoginPassword, Session

from fitcounter.desk.messages.mail_account import MailAccount
from fitcounter.serving import certificate

USER, PASSWORD = "shop@example.org", "a mail password of the shop"


@dataclass
class MailServer:
    """mode: takes, refuses, full, drops, slow or busy. received: what it took, as read back."""

    port: int
    mode: str = "takes"
    received: list[EmailMessage] = field(default_factory=list)
    tried: int = 0

    async def handle_RCPT(  # noqa: N802 (aiosmtpd's name)
        self, _: SMTP, __: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        self.tried += 1
        answers = {"refuses": "550 5.1.1 nobody here", "full": "452 4.2.2 mailbox full"}
        if self.mode in answers:
            return answers[self.mode]
        envelope.rcpt_tos.append(address)
        envelope.rcpt_options.extend(options)
        return "250 OK"

    async def handle_DATA(self, server: SMTP, _: Session, envelope: Envelope) -> str:  # noqa: N802
        if self.mode == "drops":
            assert server.transport is not None
            server.transport.abort()
            return "421 gone"
        if self.mode == "slow":
            await asyncio.sleep(1)
        if self.mode == "busy":
            return "451 4.3.0 not now"
        assert isinstance(envelope.content, bytes)
        message = message_from_bytes(envelope.content, policy=policy.default)
        assert isinstance(message, EmailMessage)
        self.received.append(message)
        return "250 OK"

    @property
    def account(self) -> MailAccount:
        return MailAccount("localhost", self.port, "starttls", USER, USER)


def certificate_for(folder: Path) -> tuple[ssl.SSLContext, Path]:
    """The server's own TLS, and the file of the authority that vouches for it."""
    files = certificate.make(folder, ["localhost"], "Mail", datetime.now(UTC))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(files.server, files.server_key)
    return context, files.authority


@contextmanager
def mail_server(tls: ssl.SSLContext | None, *, implicit: bool = False) -> Iterator[MailServer]:
    """The server while the block runs. tls: None offers none; implicit: from the first byte."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    server = MailServer(port)

    def sign_in(*args: Any) -> AuthResult:
        given = args[-1]
        good = isinstance(given, LoginPassword) and given.password == PASSWORD.encode()
        return AuthResult(success=good, handled=False)

    options: dict[str, Any] = {"authenticator": sign_in, "auth_require_tls": tls is not None}
    if implicit:
        options["auth_require_tls"] = False
    elif tls is not None:
        options["tls_context"] = tls
    controller = Controller(
        server, hostname="localhost", port=port, ssl_context=tls if implicit else None, **options
    )
    controller.start()
    try:
        yield server
    finally:
        controller.stop()
