"""A signature is decoded and written anew: its pixels stay, everything else goes."""

from __future__ import annotations

import struct
import tracemalloc
import zlib
from functools import cache
from io import BytesIO

import pytest
from PIL import Image, PngImagePlugin

from fitcounter.desk.quote.signature_png import MOST_PIXELS, written_anew


def drawn(mode: str = "RGBA") -> Image.Image:
    picture = Image.new(mode, (300, 120))
    for x in range(20, 280):
        picture.putpixel((x, 60 + x % 17), (27, 24, 19, 255) if mode == "RGBA" else 27)
    return picture


def sent(picture: Image.Image, **more: object) -> bytes:
    out = BytesIO()
    picture.save(out, "PNG", **more)
    return out.getvalue()


def made(head: bytes, packed: bytes) -> bytes:
    """A PNG with this head and these packed rows."""

    def part(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    return b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + part(b"IDAT", packed) + part(b"IEND", b"")


def head(width: int, height: int, *ways: int) -> bytes:
    return struct.pack(">IIBBBBB", width, height, *(ways or (8, 6, 0, 0, 0)))


@pytest.mark.parametrize("mode", ["L", "LA", "RGB", "RGBA"])
def test_every_pixel_of_a_canvas_stays(mode: str) -> None:
    before = drawn().convert(mode)
    with Image.open(BytesIO(written_anew(sent(before)))) as after:
        assert (after.mode, after.size) == (mode, before.size)
        assert after.tobytes() == before.tobytes()


def test_nothing_that_travelled_along_stays() -> None:
    """Words, a place, a profile, and what was hung on behind."""
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", "Okafor-Lind", zip=False)
    whole = sent(drawn(), pnginfo=words, exif=b"Exif\0\0secret place", icc_profile=b"a profile")
    assert b"Okafor-Lind" in whole
    anew = written_anew(whole + b"<script>")
    kinds = {kind for kind in (b"tEXt", b"eXIf", b"iCCP", b"script", b"Okafor") if kind in anew}
    assert kinds == set()
    assert written_anew(anew) == anew


@cache
def bomb() -> bytes:
    """400 MB of nothing in 390 KB: packed at once they took two seconds, so a hundredth of them is
    packed, and is there a hundred times.
    """
    pack = zlib.compressobj(9)
    begin = pack.compress(b"") + pack.flush(zlib.Z_FULL_FLUSH)
    part = pack.compress(bytes(4_000_000)) + pack.flush(zlib.Z_FULL_FLUSH)
    last, check = b"\x03\x00", struct.pack(">HH", 400_000_000 % 65_521, 1)
    return begin + part * 100 + last + check


@pytest.mark.parametrize(("side", "why"), [(25_000, "too large"), (10, "more or less")])
def test_a_bomb_is_refused(side: int, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        written_anew(made(head(side, side), bomb()))


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (made(head(MOST_PIXELS + 1, 1), zlib.compress(bytes(10))), "too large"),
        (made(head(0, 10), zlib.compress(b"")), "too large"),
        (made(head(10, 10), zlib.compress(bytes(409))), "more or less"),
        (made(head(10, 10), zlib.compress(bytes(411))), "more or less"),
        (made(head(10, 10), b"no zlib"), "damaged"),
        (made(head(1, 1), zlib.compress(b"\5....")), "more or less"),
        (made(head(1, 1, 16, 6, 0, 0, 0), zlib.compress(bytes(9))), "of a canvas"),
        (made(head(1, 1, 8, 3, 0, 0, 0), zlib.compress(bytes(2))), "of a canvas"),
        (made(head(1, 1, 8, 6, 0, 0, 1), zlib.compress(bytes(5))), "of a canvas"),
        (made(b"", zlib.compress(bytes(5))), "no head"),
        (sent(drawn())[:-12], "no end"),
        (sent(drawn())[:200], "damaged"),
        (sent(drawn()).replace(b"IDAT", b"TADI", 1), "damaged"),
        (b"GIF89a", "no PNG"),
        (b"", "no PNG"),
    ],
    ids=range(15),
)
def test_whatever_is_no_picture_of_a_canvas_is_refused(content: bytes, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        written_anew(content)


def test_a_picture_that_unpacks_to_gigabytes_costs_no_memory() -> None:
    """Neither by what its head says nor by what its rows hold."""
    packed = bomb()
    tracemalloc.start()
    for size in (25_000, 10):
        with pytest.raises(ValueError, match=r"too large|size"):
            written_anew(made(head(size, size), packed))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 10 * len(packed)
