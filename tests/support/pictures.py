"""Pictures made for a test: clean ones, and one that claims to be larger than any memory."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image

RED = (180, 40, 40)


def picture(
    kind: str = "JPEG", size: tuple[int, int] = (640, 480), mode: str = "RGB", **more: object
) -> bytes:
    out = io.BytesIO()
    Image.new(mode, size, RED if mode == "RGB" else 120).save(out, kind, **more)
    return out.getvalue()


def png_that_claims(width: int, height: int, held: int | None = None) -> bytes:
    """A few dozen kilobytes that would be as large as their claim once decoded; or as large as
    held, in bytes.
    """

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    header = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    rows = zlib.compress(bytes((width // 8 + 1) * height if held is None else held), 9)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    )
