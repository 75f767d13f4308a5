"""The letters of every paper, as they lie in static/fonts/."""

from __future__ import annotations

import hashlib
from typing import Final

from fitcounter.settings import STATIC

FONTS: Final = (
    "SourceSans3-Regular",
    "SourceSans3-Bold",
    "SourceSerif4-Regular",
    "SourceSerif4-Bold",
)


def damaged_font() -> str:
    """The first file of letters that is missing or not as it was delivered
    (static/fonts/SHA256SUMS), "" when all are whole.
    """
    try:
        lines = (STATIC / "fonts" / "SHA256SUMS").read_text(encoding="ascii").splitlines()
        delivered = {name: digest for digest, name in (line.split() for line in lines)}
    except (OSError, ValueError):
        return "SHA256SUMS"
    for name in (f"{font}.ttf" for font in FONTS):
        try:
            digest = hashlib.sha256((STATIC / "fonts" / name).read_bytes()).hexdigest()
        except OSError:
            return name
        if digest != delivered.get(name):
            return name
    return ""
