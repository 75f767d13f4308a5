"""A photo written anew pixel by pixel, by the library that reads pictures; in a process of its own.

OWASP ASVS 5.0 5.2 and the OWASP file upload cheat sheet (image rewriting): a short list of
decoders, a limit on pixels before anything is decoded, nothing of the file that was sent but its
pixels.
"""

from __future__ import annotations

from io import BytesIO
from typing import Final

from PIL import Image, ImageOps

from fitcounter.papers.photo_limits import (
    LONGEST_SIDE_PX,
    MOST_PIXELS,
    CleanPhoto,
    PhotoFault,
)

_QUALITY: Final = 82
_READ: Final = ("JPEG", "PNG", "WEBP")


def clean(sent: bytes) -> CleanPhoto | PhotoFault:
    """The pixels of what was sent as a JPEG of at most 1600 px, upright, with nothing else in it;
    or why there is none.
    """
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    try:
        with Image.open(BytesIO(sent), formats=_READ) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                return PhotoFault.TOO_LARGE
            # a JPEG is decoded no larger than it will be kept
            opened.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            picture = ImageOps.exif_transpose(opened)
            picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            return _written(picture)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return PhotoFault.TOO_LARGE
    except MemoryError:
        raise
    except Exception:  # a decoder that is fed a hostile file may raise anything
        return PhotoFault.UNREADABLE


def _written(picture: Image.Image) -> CleanPhoto:
    """Pixels alone on white: no Exif, comment, profile, or second frame comes along."""
    ground = Image.new("RGB", picture.size, "white")
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        seen = picture.convert("RGBA")
        ground.paste(seen, mask=seen.getchannel("A"))
    else:
        ground.paste(picture.convert("RGB"))
    out = BytesIO()
    ground.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return CleanPhoto(out.getvalue(), ground.width, ground.height)
