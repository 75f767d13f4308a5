"""Where a shop's off-site copy goes: a folder, an S3-compatible store or a computer by SFTP, as the
owner set it up. Kept in a file beside the shop's that only its user reads; the secrets in it are
never shown, logged, copied or taken out.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict
from pathlib import Path
from urllib.parse import parse_qs, unquote, urlsplit

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput, NotAllowed
from fitcounter.store import backup
from fitcounter.store.remote_place import FOLDER, S3, SFTP, OffSite

__all__ = [
    "FILE",
    "FOLDER",
    "S3",
    "SFTP",
    "STAGE",
    "OffSite",
    "changed_or_as_before",
    "draft",
    "drop_draft",
    "forget",
    "from_address",
    "from_fields",
    "is_remote",
    "keep",
    "local_folder",
    "read",
]

FILE = "off-site.json"
HALF = f"{FILE}.half"
STAGE = "off-site-stage"
LOOPBACK = ("localhost", "127.0.0.1", "::1")
# what no store and no other computer reads in a way of its own
PLAIN_PATH = re.compile(r"[\w./+=@ -]{1,200}", re.ASCII)
PLAIN_WORD = re.compile(r"[\w.+=@-]{1,100}", re.ASCII)
HOST = re.compile(r"[A-Za-z0-9][A-Za-z0-9.:-]{0,252}")
KEYS = ("FITCOUNTER_S3_KEY", "FITCOUNTER_S3_SECRET")


def is_remote(where: str) -> bool:
    """Is it an address in a network rather than a folder of this computer?"""
    return where.startswith((f"{S3}://", f"{SFTP}://"))


def local_folder(data_dir: Path, where: str) -> Path:
    """The folder of this computer that is the off-site copy, or shows how it stands there."""
    return data_dir / STAGE if is_remote(where) else Path(where)


def read(data_dir: Path) -> OffSite | None:
    """What was set up; None for nothing. Raises NotAllowed for a file that cannot be read, or that
    others can read.
    """
    path = data_dir / FILE
    if not path.exists():
        return None
    if path.stat().st_mode & 0o077:
        raise NotAllowed(
            say("Others on this machine can read the keys. Type: chmod 600 {path}", path=path)
        )
    try:
        return OffSite(**json.loads(path.read_text(encoding="utf-8")))
    except (ValueError, TypeError) as error:
        raise NotAllowed(
            say("{file} cannot be read. Set up the off-site copy again.", file=path)
        ) from error


def draft(data_dir: Path, off_site: OffSite) -> Path:
    """Writes it for its user's eyes alone, to be kept or not."""
    path = data_dir / HALF
    backup.make_private(path)
    backup.write_file(path, json.dumps(asdict(off_site)).encode())
    return path


def keep(data_dir: Path, draft: Path) -> None:
    """It is the off-site copy from now on, in one step."""
    draft.replace(data_dir / FILE)


def drop_draft(data_dir: Path) -> None:
    """One that was not kept; nothing where it was."""
    (data_dir / HALF).unlink(missing_ok=True)


@contextmanager
def changed_or_as_before(data_dir: Path) -> Iterator[None]:
    """What was set up is put back where the block fails."""
    path, before = data_dir / FILE, data_dir / f"{FILE}.before"
    with suppress(OSError):
        before.unlink()
    if path.exists():
        os.link(path, before)
    try:
        yield
    except BaseException:
        if before.exists():
            before.replace(path)
            before.unlink(missing_ok=True)  # two names of one file stay both
        else:
            path.unlink(missing_ok=True)
        raise
    with suppress(OSError):
        before.unlink()


def forget(data_dir: Path) -> None:
    """No off-site copy from now on; what lies there stays there."""
    (data_dir / FILE).unlink(missing_ok=True)


def from_fields(kind: str, typed: Mapping[str, str]) -> OffSite:
    """What was typed in the fields of one kind. Raises BadInput with the field."""
    fields = {name: value.strip() for name, value in typed.items()}
    if kind == FOLDER:
        path = Path(fields.get("folder", "")).expanduser()
        if not path.is_absolute() or not str(path).isprintable():
            raise BadInput(say("Type the whole path, like /media/stick/boots."), field="folder")
        return OffSite(kind=FOLDER, folder=str(path))
    if kind == S3:
        return _s3(fields)
    if kind == SFTP:
        return _sftp(fields)
    raise BadInput(say("Choose where the off-site copy goes."), field="kind")


def _s3(fields: Mapping[str, str]) -> OffSite:
    address = urlsplit(fields.get("host", ""))
    if address.scheme == "http" and address.hostname not in LOOPBACK:
        raise BadInput(
            say("Write the address with https://: what crosses the network is private."),
            field="host",
        )
    if address.scheme not in ("http", "https") or not address.hostname or address.path.strip("/"):
        raise BadInput(
            say("Write the store’s address as it gives it, like https://s3.example.com."),
            field="host",
        )
    _plain(fields, "bucket", PLAIN_WORD)
    _plain(fields, "region", PLAIN_WORD)
    _plain(fields, "folder", PLAIN_PATH)
    for name in ("key", "secret"):
        if not re.fullmatch(r"[!-~]{1,200}", fields.get(name, "")):
            raise BadInput(say("Type the key as the store gives it."), field=name)
    names = ("bucket", "region", "key", "secret")
    return OffSite(
        kind=S3,
        host=f"{address.scheme}://{address.netloc.rpartition('@')[2]}",
        folder=fields["folder"].strip("/"),
        **{name: fields[name] for name in names},  # type: ignore[arg-type]
    )


def _sftp(fields: Mapping[str, str]) -> OffSite:
    _plain(fields, "host", HOST)
    _plain(fields, "user", PLAIN_WORD)
    # a user begins there anyway
    fields = {**fields, "folder": fields.get("folder", "").removeprefix("~/")}
    _plain(fields, "folder", PLAIN_PATH)
    port = fields.get("port") or "22"
    if not (port.isascii() and port.isdigit() and 1 <= int(port) <= 65535):
        raise BadInput(say("Write the port as a number from 1 to 65535."), field="port")
    return OffSite(
        kind=SFTP,
        host=fields["host"],
        port=int(port),
        user=fields["user"],
        folder=fields["folder"].rstrip("/"),
    )


def _plain(fields: Mapping[str, str], name: str, pattern: re.Pattern[str]) -> None:
    typed = fields.get(name, "")
    if not pattern.fullmatch(typed) or typed.startswith("-") or ".." in typed:
        raise BadInput(
            say("Type this in letters, digits and . _ - alone."), typed=typed, field=name
        )


def from_address(where: str, environ: Mapping[str, str]) -> OffSite:
    """An off-site copy as the command line names it: a folder, sftp://USER@HOST/FOLDER, or
    s3://BUCKET/FOLDER?endpoint=https://…&region=…, whose keys stand in the environment.

    Raises BadInput.
    """
    if not is_remote(where):
        return OffSite(kind=FOLDER, folder=str(Path(where).expanduser().absolute()))
    address = urlsplit(where)
    folder = unquote(address.path)[1:]
    if address.scheme == SFTP:
        return from_fields(
            SFTP,
            {
                "host": address.hostname or "",
                "user": unquote(address.username or ""),
                "port": str(address.port or ""),
                "folder": folder,
            },
        )
    asked = {name: values[0] for name, values in parse_qs(address.query).items()}
    if not all(environ.get(name) for name in KEYS):
        raise BadInput(
            say(
                "Put the store’s two keys into {first} and {second}.", first=KEYS[0], second=KEYS[1]
            ),
            field="to",
        )
    return from_fields(
        S3,
        {
            "host": asked.get("endpoint", ""),
            "region": asked.get("region", "us-east-1"),
            "bucket": address.hostname or "",
            "folder": folder,
            "key": environ[KEYS[0]],
            "secret": environ[KEYS[1]],
        },
    )
