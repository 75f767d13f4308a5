"""Claim check, receipt and closed till on small sheets and till rolls, and the second code on what
the customer takes home.
"""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from papers.paper_records import CLAIM, RECEIPT
from papers.test_closed_till import SLIP
from PIL import Image, ImageDraw

from fitcounter.desk.common.translation import speech
from fitcounter.papers import bench_records, records
from fitcounter.papers.claim_check import claim_check, receipt
from fitcounter.papers.closed_till import till_slip
from fitcounter.papers.qr_code import QUIET, modules, short_way_to

SIZES = {
    "letter": (215.9, 279.4),
    "a6": (105, 148),
    "half": (139.7, 215.9),
    "roll80": (80,),
    "roll58": (58,),
}
TYPED = "boots.quillmarsh.example/b/7K3M-9QXW-E"
LONG_NAME = "María Magdalena Wolfeschlegelsteinhausen y Rodríguez-Carbajal"
MANY = replace(
    CLAIM,
    typed=TYPED,
    language="es",
    number="10412",
    customer=LONG_NAME,
    items=tuple(records.ItemLine(f"Botas altas de montar {n}", 2, "tacones") for n in range(9)),
    charges=tuple(records.Charge(f"Cambiar la cremallera {n}", "¥123,000") for n in range(12)),
    total="¥1,476,000",
    deposit="−¥400,000",
    due="¥1,076,000",
)


def look_at(reader, pdf: bytes) -> list[Image.Image]:
    """Every page, coarse enough to be quick and fine enough for a camera's eye."""
    return [reader.picture(pdf, page, 150) for page in range(len(reader.pages(pdf)))]


def white_around(picture: Image.Image, mm: float) -> bool:
    """Whether nothing is printed so near an edge of the page."""
    ink = np.asarray(picture) < 200
    edge = round(mm / 25.4 * 150)
    return not (
        ink[:edge].any() or ink[-edge:].any() or ink[:, :edge].any() or ink[:, -edge:].any()
    )


@pytest.mark.parametrize("size", SIZES)
def test_every_word_and_both_codes_stand_on_every_paper(reader, size):
    """Twelve lines in yen for a long name, in Spanish: whole, clear of the edges, and the second
    code, which is the short address in capitals, so far from the first that nothing spoils both.
    """
    pdf = claim_check(replace(MANY, paper=size), speech("es").say)
    text = "".join(reader.text(pdf).split())
    for words in (LONG_NAME, "10412", "¥1,476,000", "−¥400,000", "¥1,076,000", TYPED):
        assert "".join(words.split()) in text, words
    assert text.count("Cambiarlacremallera") == 12
    assert reader.size_mm(pdf)[: len(SIZES[size])] == pytest.approx(SIZES[size], abs=0.05)
    pictures = look_at(reader, pdf)
    assert all(white_around(picture, 2.5) for picture in pictures)
    assert size not in ("roll80", "roll58") or len(pictures) == 1
    seen = [(page, *one) for page, picture in enumerate(pictures) for one in reader.codes(picture)]
    (page, link, first), (later, short, second) = seen
    assert (link, short) == (MANY.link, "HTTPS://BOOTS.QUILLMARSH.EXAMPLE/B/7K3M9QXWE")
    assert later > page or second[1] - first[3] > 60 / 25.4 * 150


def test_a_till_roll_is_as_long_as_what_stands_on_it(reader):
    """No blank paper below the last words, and nothing of them cut off."""
    pdf, longer = (
        receipt(replace(RECEIPT, items=RECEIPT.items * times, paper="roll58")) for times in (1, 4)
    )
    rows = np.flatnonzero((np.asarray(reader.picture(pdf, 0, 100)) < 200).any(axis=1))
    assert 4 <= reader.size_mm(pdf)[1] - rows[-1] / 100 * 25.4 <= 9
    assert reader.size_mm(longer)[1] > reader.size_mm(pdf)[1] + 30


def test_a_closed_till_stands_whole_on_the_narrowest_roll(reader):
    yen = bench_records.TillSlipLine(
        "Transferencia", "¥1,476,000", "-¥400,000", "¥1,076,000", "¥1,076,000", "ok"
    )
    pdf = till_slip(replace(SLIP, paper="roll58", lines=(*SLIP.lines, yen)))
    assert len(reader.pages(pdf)) == 1
    text = reader.text(pdf)
    for words in ("Transferencia", "¥1,476,000", "−¥400,000", "$33.00", "two coins", "DE 123"):
        assert words in text.replace("-¥", "−¥"), words
    ink = np.asarray(reader.picture(pdf, 0, 100)) < 200
    assert not np.hstack((ink[:, :10], ink[:, -10:])).any(), "clear of both edges"


def a_picture(address: str, dot: int = 9) -> Image.Image:
    """The code of this address, with white around."""
    dark = np.pad(np.asarray(modules(address)), QUIET)
    return Image.fromarray(np.where(np.kron(dark, np.ones((dot, dot))), 0, 255).astype(np.uint8))


def without_a_corner(image: Image.Image, wide: float, dot: int = 9) -> Image.Image:
    """As a tag is tried: 15 % of the symbol's area gone at its lower right."""
    side = image.width - 2 * QUIET * dot
    end = QUIET * dot + side
    gone = (end - wide * side, end - 0.15 / wide * side, image.width, image.height)
    ImageDraw.Draw(image).rectangle(gone, fill=90)
    return image


def test_with_the_second_code_a_worn_paper_is_always_read(reader):
    """Both codes with 15 % of them gone: of ten claim checks, ten can still be scanned."""
    chance = random.Random(7)
    for _ in range(10):
        token = "".join(chance.choices("abcdefgh-_XYZ0189", k=22))
        code = "".join(chance.choices("0123456789ABCDEFGHJKMNPQRSTVWXYZ", k=9))
        addresses = (f"https://shop.example/c/{token}", f"HTTPS://SHOP.EXAMPLE/B/{code}")
        read = [
            reader.codes(without_a_corner(a_picture(one), chance.uniform(0.25, 0.6)))
            for one in addresses
        ]
        assert any(
            [text for text, _ in seen] == [one] for seen, one in zip(read, addresses, strict=True)
        )


def test_without_a_short_address_there_is_no_second_code():
    assert short_way_to(CLAIM.link, "", speech("en").say) is None
    assert short_way_to(None, TYPED, speech("en").say) is None
