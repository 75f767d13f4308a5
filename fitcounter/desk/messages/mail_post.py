"""Hands one message to the shop's mail server: TLS with a certificate that holds, or nothing."""

from __future__ import annotations

import smtplib
import ssl
from collections.abc import Iterator
from contextlib import contextmanager
from email.message import EmailMessage

from fitcounter.desk.common.translation import marked
from fitcounter.desk.messages.mail_account import MailAccount

WAIT_S = 20
# What went wrong, by the word that is kept.
FAULTS = {
    "no-password": marked("There is no password for the mail account. Type it again."),
    "no-answer": marked("The mail server does not answer. Check its name and port."),
    "no-tls": marked("The mail server offers no TLS here. Try the other kind, or another port."),
    "certificate": marked("The mail server’s certificate does not fit its name."),
    "sign-in": marked("The mail server refused the user name or the password."),
    "refused": marked("The mail server refused this address."),
    "not-now": marked("The mail server cannot take it now."),
}
FOR_GOOD = ("refused",)  # trying again would change nothing


class NotPosted(Exception):
    """The message did not go out. fault: a word of FAULTS."""

    def __init__(self, fault: str) -> None:
        super().__init__(fault)
        self.fault = fault


def post(account: MailAccount, password: str, message: EmailMessage) -> None:
    """Sends it. Raises NotPosted; then it did not go out, as far as the server said."""
    if account.user and not password:
        raise NotPosted("no-password")
    with _faults(), _connected(account) as server:
        if account.user:
            server.login(account.user, password)
        server.send_message(message)


@contextmanager
def _connected(account: MailAccount) -> Iterator[smtplib.SMTP]:
    """The server, with TLS begun; what goes wrong when saying goodbye does not count."""
    trust = ssl.create_default_context()
    trust.minimum_version = ssl.TLSVersion.TLSv1_2
    if account.security == "tls":
        server: smtplib.SMTP = smtplib.SMTP_SSL(
            account.host, account.port, timeout=WAIT_S, context=trust
        )
    else:
        server = smtplib.SMTP(account.host, account.port, timeout=WAIT_S)
    try:
        if account.security == "starttls":
            server.starttls(context=trust)
        yield server
    finally:
        server.close()


@contextmanager
def _faults() -> Iterator[None]:
    """What the libraries raise, as one of our words; never a text of the server's."""
    try:
        yield
    except smtplib.SMTPAuthenticationError as error:
        raise NotPosted("sign-in") from error
    except smtplib.SMTPRecipientsRefused as error:
        codes = [code for code, _ in error.recipients.values()]
        raise NotPosted("refused" if all(code >= 500 for code in codes) else "not-now") from error
    except smtplib.SMTPNotSupportedError as error:
        raise NotPosted("no-tls" if "STARTTLS" in str(error) else "refused") from error
    except ssl.SSLCertVerificationError as error:
        raise NotPosted("certificate") from error
    except ssl.SSLError as error:
        raise NotPosted("no-tls") from error
    except (smtplib.SMTPConnectError, smtplib.SMTPServerDisconnected, TimeoutError) as error:
        raise NotPosted("no-answer") from error
    except smtplib.SMTPResponseException as error:
        raise NotPosted("not-now") from error
    except OSError as error:
        raise NotPosted("no-answer") from error
