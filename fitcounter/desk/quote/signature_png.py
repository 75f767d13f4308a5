"""A signature as PNG (ISO/IEC 15948), taken apart and written anew: its rows of pixels and nothing
else of what was sent.

Only the kinds of picture that a canvas gives, and none that unpacks to more than its own size says.
The rows keep the filters they came with: what is left of them is exactly the pixels.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

MOST_PIXELS = 1_000_000  # a finger's signature on a wide screen takes a fifth of it
_PNG = b"\x89PNG\r\n\x1a\n"
_SAMPLES = {0: 1, 2: 3, 4: 2, 6: 4}  # a pixel, by the kind of colour: grey, colour, each with alpha
_FILTERS = 5


def written_anew(sent: bytes) -> bytes:
    """The same pixels in a PNG of our own. Raises ValueError for anything else."""
    if not sent.startswith(_PNG):
        raise ValueError("no PNG")
    head, packed = b"", []
    for kind, data in _parts(sent[len(_PNG) :]):
        if kind == b"IHDR" and not head:
            head = data
        elif kind == b"IDAT":
            packed.append(data)
        elif kind == b"IEND":
            rows = _rows(head, b"".join(packed))
            level = zlib.compress(rows, 9)
            return _PNG + _part(b"IHDR", head) + _part(b"IDAT", level) + _part(b"IEND", b"")
    raise ValueError("no end")


def _parts(content: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Kind and data of each part whose sum is right."""
    while len(content) >= 12:
        length, kind = struct.unpack(">I4s", content[:8])
        data, crc = content[8 : 8 + length], content[8 + length : 12 + length]
        if len(crc) != 4 or struct.unpack(">I", crc)[0] != zlib.crc32(kind + data):
            raise ValueError("a part is damaged")
        yield kind, data
        content = content[12 + length :]


def _rows(head: bytes, packed: bytes) -> bytes:
    """The rows, of exactly the length that the head says, each behind its filter."""
    if len(head) != 13:
        raise ValueError("no head")
    width, height, depth, colour, *ways = struct.unpack(">IIBBBBB", head)
    if depth != 8 or colour not in _SAMPLES or any(ways):
        raise ValueError("no picture of a canvas")
    if not 0 < width * height <= MOST_PIXELS:
        raise ValueError("too large")
    row = 1 + width * _SAMPLES[colour]
    unpacker = zlib.decompressobj()
    try:
        rows = unpacker.decompress(packed, height * row + 1)
    except zlib.error as error:
        raise ValueError("damaged") from error
    if len(rows) != height * row or max(rows[::row]) >= _FILTERS:
        raise ValueError("more or less than its size says")
    return rows


def _part(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
