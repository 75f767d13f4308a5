"""What an off-site copy in a network has to be able to do with files, whatever it is.

It runs in processes of its own, never in the server's: only they import the libraries.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path
from typing import Protocol

from fitcounter import how_far
from fitcounter.errors import NotFound, Unavailable, message
from fitcounter.store.remote_place import S3, OffSite

# beside these, only what Litestream writes lies in live-…/db
FOLDERS = ("photos", "signatures", "evening")
TRIAL = "fitcounter-trial"
TRYING = message("Trying out the place")


class RemoteFiles(Protocol):
    """Files by name, folders with /. Each method raises Unavailable with a sentence that says what
    to do.
    """

    def names(self) -> dict[str, int]:
        """Every file of ours, with its size in bytes: those in FOLDERS, at the top, and the mark of
        each live folder (live-…/shop.json).
        """

    def put(self, files: Iterable[tuple[Path, str]]) -> None:
        """Writes each whole file under its name, in the place of one that is there."""

    def get(self, files: Iterable[tuple[str, Path]]) -> None:
        """Fetches each."""

    def remove(self, names: Iterable[str]) -> None:
        """Removes each; one that is gone already is no fault."""

    def remove_live(self, live: str) -> None:
        """Removes a live folder with all that Litestream wrote into it."""


def of(off_site: OffSite, data_dir: Path) -> RemoteFiles:
    """The files there. data_dir: where the keys for SFTP lie.

    Raises NotFound where no wheel of the library came for this machine.
    """
    try:
        if off_site.kind == S3:
            made: RemoteFiles = import_module("fitcounter.store.s3_files").S3Files(off_site)
        else:
            made = import_module("fitcounter.store.sftp_files").SftpFiles(off_site, data_dir)
    except ModuleNotFoundError as error:
        raise NotFound(
            message(
                "This machine has no library for such a place: no wheel came for it. Choose a"
                " folder on another disk."
            )
        ) from error
    return made


def shop_line(data_dir: Path) -> str:
    """What another computer's authorized_keys needs to let this shop in."""
    return str(import_module("fitcounter.store.sftp_files").public_key(data_dir))


def fetch(off_site: OffSite, data_dir: Path, name: str, target: Path) -> None:
    """Fetches one file. Raises Unavailable, also where it is not there."""
    of(off_site, data_dir).get([(name, target)])


def try_out(off_site: OffSite, data_dir: Path) -> None:
    """Writes a file there, reads it back and removes it.

    Raises Unavailable with a sentence where one of the three does not work.
    """
    files, content = of(off_site, data_dir), secrets.token_bytes(64)
    draft, back = data_dir / f"{TRIAL}.out", data_dir / f"{TRIAL}.in"
    how_far.tell(TRYING, 0, 1)
    try:
        draft.write_bytes(content)
        files.put([(draft, TRIAL)])
        files.get([(TRIAL, back)])
        if back.read_bytes() != content or files.names().get(TRIAL) != len(content):
            raise Unavailable(message("What was written there does not come back as it was."))
        files.remove([TRIAL])
        if TRIAL in files.names():
            raise Unavailable(
                message("Nothing can be deleted there, so nobody could be erased. Allow deleting.")
            )
    finally:
        draft.unlink(missing_ok=True)
        back.unlink(missing_ok=True)
