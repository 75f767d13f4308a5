"""The modules of a QR code, by the library that makes them; in a process of its own."""

from __future__ import annotations

from qrcode import constants
from qrcode.main import QRCode


def modules(text: str, level: str) -> tuple[tuple[bool, ...], ...]:
    """The dark (True) and light modules of the code, rows from the top, without the quiet zone.

    level: L, M, Q or H.
    """
    levels = {name: getattr(constants, f"ERROR_CORRECT_{name}") for name in "LMQH"}
    code = QRCode(error_correction=levels[level], border=0)
    code.add_data(text, optimize=0)
    return tuple(tuple(bool(dark) for dark in row) for row in code.get_matrix())
