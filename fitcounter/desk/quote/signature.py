"""The finger's signature: checked, and kept beside the shop's file for its owner alone."""

from __future__ import annotations

import base64
import binascii
import secrets
from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.store import pictures

MOST_CHARACTERS = 60_000  # of base 64; a finger's signature takes a tenth of it
_START = "data:image/png;base64,"
_PNG = b"\x89PNG\r\n\x1a\n"


def read_signature(typed: str) -> bytes:
    """The PNG (ISO/IEC 15948) that the page sends; empty is none. Raises BadInput."""
    if not typed:
        return b""
    try:
        whole = typed.startswith(_START) and len(typed) <= MOST_CHARACTERS
        picture = base64.b64decode(typed.removeprefix(_START), validate=True) if whole else b""
    except (ValueError, binascii.Error):
        picture = b""
    if not picture.startswith(_PNG) or not picture.rstrip(b"\0").endswith(b"IEND\xaeB`\x82"):
        raise BadInput(
            say("The signature is incomplete. Sign again, or clear it."),
            field="signature",
        )
    return picture


def new_path(data_dir: Path, ticket_id: int) -> Path:
    """Where the next signature of a ticket goes.

    By chance, so that two saves at once never take each other's file away.
    """
    return pictures.path_of(data_dir, "signatures", f"{ticket_id}-{secrets.token_hex(16)}.png")


def signature(data_dir: Path, name: str) -> bytes | None:
    """A kept signature, None where there is none or its file is gone. Raises NotFound for a name
    that leads elsewhere.
    """
    if not name:
        return None
    path = pictures.path_of(data_dir, "signatures", name)
    return path.read_bytes() if path.is_file() else None
