"""The finger's signature: written anew, and kept beside the shop's file for its owner alone."""

from __future__ import annotations

import base64
import secrets
from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.desk.quote.signature_png import written_anew
from fitcounter.errors import BadInput
from fitcounter.store import pictures

MOST_CHARACTERS = 60_000  # of base 64; a finger's signature takes a tenth of it
_START = "data:image/png;base64,"


def read_signature(typed: str) -> bytes:
    """The pixels that the page sends, as a PNG of our own; empty is none. Raises BadInput."""
    if not typed:
        return b""
    try:
        if not typed.startswith(_START) or len(typed) > MOST_CHARACTERS:
            raise ValueError("none of the page's")
        return written_anew(base64.b64decode(typed.removeprefix(_START), validate=True))
    except ValueError as error:  # binascii's own error is one
        raise BadInput(
            say("The signature is incomplete. Sign again, or clear it."),
            field="signature",
        ) from error


def new_path(data_dir: Path, ticket_id: int) -> Path:
    """Where the next signature of a ticket goes.

    By chance, so that two saves at once never take each other's file away.
    """
    return pictures.path_of(data_dir, "signatures", f"{ticket_id}-{secrets.token_hex(16)}.png")


def signature(data_dir: Path, name: str) -> bytes | None:
    """A kept signature; None where there is none, its file is gone, or what lies there is no
    picture of a signature. Raises NotFound for a name that leads elsewhere.
    """
    if not name:
        return None
    path = pictures.path_of(data_dir, "signatures", name)
    try:  # also one that an older program kept as it was sent, or that `import` brought
        return written_anew(path.read_bytes()) if path.is_file() else None
    except ValueError:
        return None
