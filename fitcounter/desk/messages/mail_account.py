"""The shop's own mail account: where it is and what goes out by it. Its password lies with the
shop's keys, in no file of data and in nothing that is taken out.
"""

from __future__ import annotations

import json
import os
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal

from fitcounter.desk.common import mail
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.shop import Act, Store, Written
from fitcounter.errors import BadInput
from fitcounter.settings import load_keys
from fitcounter.store import settings

PASSWORD = "mail_password"
KINDS = {
    "claim": marked("Claim check, after the agreement"),
    "late": marked("It will be late"),
    "ready": marked("Ready to pick up"),
    "calendar": marked("Wearing-in calendar, after pickup"),
    "follow-up": marked("How do the boots feel?"),
    "guarantee": marked("The guarantee ends soon"),
}
SECURITY = {
    "tls": marked("TLS from the start (usual port 465)"),
    "starttls": marked("STARTTLS (usual port 587)"),
}
LONGEST_PASSWORD = 200


@dataclass(frozen=True, slots=True)
class MailAccount:
    """host, port: of the mail server. security: tls or starttls; there is no third. user: to sign
    in with. sender: the address that mails come from. kinds: what the owner switched on.
    """

    host: str
    port: int
    security: Literal["tls", "starttls"]
    user: str
    sender: str
    kinds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedAccount:
    """What was typed on the page of the account. password: "" keeps the one there is."""

    host: str
    port: str
    security: str
    user: str
    sender: str
    password: str
    kinds: tuple[str, ...]


def of_shop(store: Store) -> MailAccount | None:
    """The account, None before there is one."""
    held = settings.get(store, mail.ACCOUNT)
    if not held:
        return None
    return MailAccount(**{**held, "kinds": tuple(held["kinds"])})


def keep(store: Store, act: Act, typed: TypedAccount, data_dir: Path) -> Written:
    """Keeps the account, and its password with the keys; an empty host takes it away.

    Raises BadInput, NotAllowed.
    """
    account = _read(typed) if typed.host.strip() else None
    if typed.password or account is None:
        _keep_password(data_dir, typed.password)

    def write() -> Written:
        settings.put(store, mail.ACCOUNT, asdict(account) if account else None)
        return Written(detail={"kinds": sorted(account.kinds) if account else []})

    return store.once(act, "mail-account", write)


def password(data_dir: Path) -> str:
    """The password, "" where there is none. Raises NotAllowed."""
    load_keys(data_dir)  # readable by the shop alone, or nothing is read
    return str(_keys(data_dir).get(PASSWORD, ""))


def _read(typed: TypedAccount) -> MailAccount:
    host, user = typed.host.strip(), typed.user.strip()
    if not all(one.isalnum() or one in ".-:" for one in host) or not host.isascii():
        words = say("Type the name of the mail server, like smtp.example.org.")
        raise BadInput(words, typed=typed.host, field="host")
    if not (typed.port.isascii() and typed.port.isdigit() and 0 < int(typed.port) < 65536):
        words = say("Type the port as a number: 465 or 587.")
        raise BadInput(words, typed=typed.port, field="port")
    if typed.security not in SECURITY:
        raise BadInput(say("Pick one of the two."), typed=typed.security, field="security")
    sender = mail.read_email(typed.sender, "sender")
    if not sender or not sender.isascii():
        words = say("Type the address that e-mails come from, like shop@example.org.")
        raise BadInput(words, typed=typed.sender, field="sender")
    security: Literal["tls", "starttls"] = "tls" if typed.security == "tls" else "starttls"
    kinds = tuple(kind for kind in KINDS if kind in typed.kinds)
    return MailAccount(host, int(typed.port), security, user, sender, kinds)


def _keys(data_dir: Path) -> dict[str, object]:
    held: dict[str, object] = json.loads((data_dir / "keys.json").read_text(encoding="ascii"))
    return held


def _keep_password(data_dir: Path, typed: str) -> None:
    """Writes it in one step beside the keys that there are. Raises BadInput, NotAllowed."""
    if len(typed) > LONGEST_PASSWORD or any(not one.isprintable() for one in typed):
        raise BadInput(say("This password cannot be used. Type it again."), field="passphrase")
    load_keys(data_dir)
    path = data_dir / "keys.json"
    held = {**_keys(data_dir), PASSWORD: typed}
    if not typed:
        held.pop(PASSWORD)
    draft = path.with_name(f"{path.name}.{os.getpid()}.mail")
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
        json.dump(held, file)
        file.flush()
        os.fsync(file.fileno())
    draft.replace(path)
