"""The finger's signature: checked, and kept beside the shop's file for its owner alone."""

from __future__ import annotations

import base64
import binascii
import hashlib
from pathlib import Path

from fitcounter.errors import BadInput

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
        raise BadInput("The signature did not arrive whole. Sign again, or type the name alone.", field="signature")
    return picture


def keep_signature(data_dir: Path, ticket_id: int, picture: bytes) -> str:
    """Writes it, mode 0600, and returns its file name; the same picture of the same ticket is one file. None is ''."""
    if not picture:
        return ""
    folder = data_dir / "signatures"
    folder.mkdir(mode=0o700, exist_ok=True)
    path = folder / f"{ticket_id}-{hashlib.sha256(picture).hexdigest()[:32]}.png"
    path.touch(mode=0o600)
    path.write_bytes(picture)
    return path.name


def signature(data_dir: Path, name: str) -> bytes | None:
    """A kept signature, None where there is none or its file is gone."""
    path = data_dir / "signatures" / name
    return path.read_bytes() if name and path.is_file() else None
