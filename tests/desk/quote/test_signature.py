"""What is kept of a finger's signature, and what is shown of what lies there."""

from __future__ import annotations

import base64
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from fitcounter.desk.quote.signature import MOST_CHARACTERS, new_path, read_signature, signature
from fitcounter.errors import BadInput, NotFound


def canvas(words: str = "") -> bytes:
    """A small picture as the page draws it."""
    out, info = BytesIO(), PngImagePlugin.PngInfo()
    info.add_text("Comment", words)
    Image.new("RGBA", (30, 10), (0, 0, 0, 0)).save(out, "PNG", pnginfo=info)
    return out.getvalue()


def typed(picture: bytes) -> str:
    return "data:image/png;base64," + base64.b64encode(picture).decode()


def test_nothing_of_what_was_sent_is_kept_but_the_pixels() -> None:
    assert b"hidden words" in canvas("hidden words")
    kept = read_signature(typed(canvas("hidden words")))
    assert b"hidden words" not in kept
    assert Image.open(BytesIO(kept)).size == (30, 10)
    assert read_signature("") == b""


@pytest.mark.parametrize(
    "sent",
    [
        typed(b"\x89PNG\r\n\x1a\n" + b"x" * 40 + b"IEND\xaeB`\x82"),
        typed(canvas()) + " " * MOST_CHARACTERS,
        typed(canvas()).replace("png", "gif"),
        "data:image/png;base64,%%%",
    ],
)
def test_what_only_looks_like_a_picture_is_refused_at_its_field(sent: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_signature(sent)
    assert refused.value.field == "signature"


def test_what_an_older_program_kept_as_it_was_sent_is_shown_without_what_came_along(
    tmp_path: Path,
) -> None:
    path = new_path(tmp_path, 7)
    path.parent.mkdir()
    path.write_bytes(canvas("hidden words"))
    shown = signature(tmp_path, path.name)
    assert shown is not None
    assert b"hidden words" not in shown
    path.write_bytes(b"no picture")
    assert signature(tmp_path, path.name) is None
    assert signature(tmp_path, "") is None
    with pytest.raises(NotFound):
        signature(tmp_path, "../shop.db")
