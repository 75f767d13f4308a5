"""What comes of a photo that is damaged, or made to take all the memory there is."""

from __future__ import annotations

import io
import resource

from PIL import Image
from support.pictures import picture, png_that_claims

from fitcounter.papers import photo_writer
from fitcounter.papers.photo_limits import CleanPhoto, PhotoFault


def test_a_picture_that_would_fill_the_memory_is_refused_before_it_is_decoded() -> None:
    """400 megapixels would be 1.2 GB: the answer takes no such memory."""
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert photo_writer.clean(png_that_claims(20000, 20000)) is PhotoFault.TOO_LARGE
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 100_000


def test_every_picture_that_was_cut_anywhere_is_refused_or_clean() -> None:
    """A JPEG, a PNG and a WebP, each cut at fifty places and with a byte turned at fifty: a
    sentence or a clean picture, never a crash.
    """
    whole = [picture(size=(90, 60)), picture("PNG", size=(90, 60)), picture("WEBP", size=(90, 60))]
    taken = 0
    for content in whole:
        for n in range(50):
            at = len(content) * n // 50
            for wrong in (
                content[:at],
                content[:at] + bytes([content[at] ^ 0x55]) + content[at + 1 :],
            ):
                taken += is_taken(photo_writer.clean(wrong))
    assert 0 < taken < 300


def is_taken(cleaned: CleanPhoto | PhotoFault) -> bool:
    """False for one that was refused; what was taken is a JPEG that opens."""
    if isinstance(cleaned, PhotoFault):
        return False
    assert Image.open(io.BytesIO(cleaned.content)).format == "JPEG"
    return True
