"""Tags survive the bench: they are read from a picture, with a corner gone, in black and white,
whatever the name.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from PIL import ImageDraw

from fitcounter import how_far
from fitcounter.errors import BadInput
from fitcounter.fit import tagcode
from fitcounter.papers.qr_code import MODULE_MM, modules, side_mm
from fitcounter.papers.records import Letterhead, Paper, TagLabel, TagSheet
from fitcounter.papers.tag import tags

SITE = "https://quillmarsh.example"


def a_code(n: int) -> str:
    """The n-th code of a fixed series."""
    rest = random.Random(n)
    return tagcode.new_code(rest.randbytes)


def a_label(n: int = 1, **changes) -> TagLabel:
    """A tag of the invented shop."""
    code = a_code(n)
    given = {
        "number": str(40 + n),
        "code": code,
        "address": f"{SITE}/t/{code}",
        "side": "left",
    } | changes
    return TagLabel(**given)


def test_both_squares_on_a_tag_lead_to_its_address(shop, reader):
    """A camera at 300 dpi sees the address twice, far apart."""
    label = a_label()
    seen = reader.codes(reader.picture(tags(TagSheet(shop, (label,)))))
    assert [text for text, _ in seen] == [tagcode.tag_address(SITE, label.code)] * 2
    tops = sorted(box[1] for _, box in seen)
    assert tops[1] - tops[0] > 60 / 25.4 * 300


@pytest.mark.parametrize("printed", [40, pytest.param(200, marks=pytest.mark.slow)])
def test_a_tag_with_its_corner_gone_is_still_read(shop, reader, printed):
    """With 15 % of the symbol's area gone at its lower right corner, at least 95 in a hundred
    different tags decode.
    """
    rest = random.Random(7)
    read = 0
    pdf = tags(TagSheet(shop, tuple(a_label(n) for n in range(printed))))
    for n in range(printed):
        image = reader.picture(pdf, n)
        (text, box), _ = sorted(reader.codes(image), key=lambda seen: seen[1][1])
        left, top, right, bottom = box
        wide = rest.uniform(0.25, 0.60)
        gone = (right - wide * (right - left), bottom - 0.15 / wide * (bottom - top))
        cut = image.crop((left - 40, top - 40, right + 40, bottom + 40))
        ImageDraw.Draw(cut).rectangle(
            (gone[0] - left + 40, gone[1] - top + 40, right - left + 80, bottom - top + 80), fill=90
        )
        read += [found for found, _ in reader.codes(cut)] == [text]
    assert read >= 0.95 * printed


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_longest_name_of_a_side_ends_before_the_edge(shop, reader, side: str):
    """Izquierda: white is left on the side where the label has no black edge."""

    def in_spanish(sentence: str, /, **values: object) -> str:
        named = {"Left": "Izquierda", "Right": "Izquierda"}
        return named.get(sentence, sentence).format(**values)

    sheet = TagSheet(shop, (a_label(side=side),))
    image = reader.picture(tags(sheet, in_spanish, "es"), dpi=200)
    edge = round(1.4 / 25.4 * 200)
    row = (0, image.height * 2 // 8, image.width, image.height * 7 // 16)
    open_side = (image.width - edge, *row[1:]) if side == "left" else (0, row[1], edge, row[3])
    assert image.crop(open_side).getextrema()[0] > 200


def test_a_module_is_as_wide_as_it_must_be_and_stands_in_white(shop, reader):
    """Measured in the picture: 0.8 mm a module, and four modules of white on every side of both
    symbols.
    """
    label = a_label()
    dpi = 600
    image = reader.picture(tags(TagSheet(shop, (label,))), dpi=dpi)
    count = len(modules(label.address.upper()))
    quiet, near = (
        round(4 * MODULE_MM / 25.4 * dpi) - 8,
        8,
    )  # the decoder places corners to a few pixels
    for _, (left, top, right, bottom) in reader.codes(image):
        assert (right - left) / count / dpi * 25.4 == pytest.approx(MODULE_MM, abs=0.01)
        for around in (
            (left - quiet, top - quiet, right + quiet, top - near),
            (left - quiet, bottom + near, right + quiet, bottom + quiet),
            (left - quiet, top, left - near, bottom),
            (right + near, top, right + quiet, bottom),
        ):
            assert image.crop(around).getextrema()[0] > 250


@pytest.mark.parametrize(("side", "dark", "light"), [("left", 0.02, 0.98), ("right", 0.98, 0.02)])
def test_the_black_edge_is_on_the_side_the_boot_is_worn(shop, reader, side, dark, light):
    """A wrong side shows without reading: one edge of the label is black from top to bottom, the
    other white.
    """
    image = reader.picture(tags(TagSheet(shop, (a_label(side=side),))))
    width, height = image.size
    assert image.crop((int(dark * width) - 5, 0, int(dark * width) + 5, height)).getextrema() == (
        0,
        0,
    )
    assert image.crop((int(light * width) - 5, 0, int(light * width) + 5, height)).getextrema() == (
        255,
        255,
    )


def test_number_and_side_are_the_largest_and_large_enough_for_two_metres(shop, reader):
    """The tallest letters are those of number and side, with capitals of at least 10 mm (2 m ÷
    200).
    """
    pdf = tags(TagSheet(shop, (a_label(title="chestnut tall boot", lines=(("day", "25 April"),)),)))
    sizes: dict[str, float] = {}

    def seen(text, _matrix, placed, _font, size):
        for word in text.split():
            sizes[word] = max(
                sizes.get(word, 0), abs(placed[3] * size) if size > 1 else abs(placed[3])
            )

    reader.read(pdf).pages[0].extract_text(visitor_text=seen)
    largest = sorted(sizes, key=sizes.get, reverse=True)[:2]
    assert set(largest) == {"41", "Left"}
    assert all(sizes[word] / 72 * 25.4 * 0.66 >= 10 for word in largest)


def placed(reader, pdf) -> dict[str, tuple[float, float]]:
    """The place up the page and the size of each text, in points."""
    places: dict[str, tuple[float, float]] = {}

    def seen(text, _matrix, placed, _font, size):
        if text.strip():
            places[text.strip()] = (placed[5], abs(placed[3] * size))

    reader.read(pdf).pages[0].extract_text(visitor_text=seen)
    return places


@pytest.mark.parametrize("side", ["left", ""])
@pytest.mark.parametrize(
    "name", ["Ana Ruiz", "María del Rosario Fernández-Castañeda y Villarreal de la Vega", "W" * 60]
)
def test_a_name_on_the_tag_takes_nothing_from_code_number_and_side(shop, reader, name, side):
    """Short or long, beside two lines of the job: both squares as large as without it, all else at
    its place and size, nothing over the characters of the code.
    """
    bare = a_label(side=side, title="chestnut tall boot", lines=(("job", "heel"), ("day", "May 2")))
    without, named = (tags(TagSheet(shop, (one,))) for one in (bare, replace(bare, name=name)))
    assert reader.codes(reader.picture(named)) == reader.codes(reader.picture(without))
    before, after = placed(reader, without), placed(reader, named)
    for words in ("41", "Left" if side else "chestnut tall", f"{bare.code[:4]}-"):
        assert after[words] == before[words]
    assert name[:8] in reader.text(named)
    below = {text: at for text, (at, _) in after.items() if text in ("heel", "May 2")}
    assert set(below) == {"heel", "May 2"}, "the day and the job stay"
    assert all(at + 9 < after[f"{bare.code[:4]}-"][0] for at in below.values()), "counted down"


def test_the_sizes_of_label_and_sheets(shop, reader):
    """A label is one page of 62 by 100 mm; nine tags take two sheets, and every code on them is
    read.
    """
    labels = tuple(a_label(n) for n in range(9))
    one = tags(TagSheet(shop, labels))
    assert len(reader.pages(one)) == 9
    assert reader.size_mm(one) == pytest.approx((62, 100), abs=0.05)
    for paper, size in (("a4", (210, 297)), ("letter", (215.9, 279.4))):
        sheet = tags(TagSheet(shop, labels, paper))
        assert len(reader.pages(sheet)) == 2
        assert reader.size_mm(sheet) == pytest.approx(size, abs=0.05)
        seen = [
            text for page in (0, 1) for text, _ in reader.codes(reader.picture(sheet, page, 200))
        ]
        assert sorted(seen) == sorted([label.address.upper() for label in labels] * 2)


def test_what_is_printed_can_be_typed(shop, reader):
    """Number, side, code, phone and the four words over the pencil rows are there as text; the
    paper is accessible.
    """
    label = a_label(
        title="chestnut tall boot", lines=(("wanted", "15 11/16 at 10 1/2"), ("day", "25 April"))
    )
    pdf = tags(TagSheet(shop, (label,)))
    text = reader.text(pdf)
    for words in (
        "41",
        "Left",
        "555 0142",
        "date tree girth turns",
        "chestnut tall boot",
        "15 11/16 at 10 1/2",
    ):
        assert words in text
    assert tagcode.show_code(label.code) in text.replace(" ", "")
    assert reader.is_accessible(pdf, "Tag 41")


def test_a_tree_has_its_tag_too(shop, reader):
    """On a tree's tag the pencil rows ask for the boot, and a tree for both sides says so."""
    text = reader.text(
        tags(TagSheet(shop, (a_label(number="K2", kind="tree", side="", title="Medium"),)))
    )
    assert "K2" in text
    assert "Either" in text
    assert "date boot girth turns" in text


def test_a_hostile_name_stays_inside_its_label(shop, reader, hostile):
    """Markup and template signs are printed as typed, one label stays one page, and both squares
    are still read.
    """
    label = a_label(number=hostile[:6], title=hostile, lines=((hostile, hostile),) * 5, side="")
    pdf = tags(TagSheet(shop, (label, a_label(2))))
    assert len(reader.pages(pdf)) == 2
    assert len(reader.codes(reader.picture(pdf))) == 2
    assert "49" not in reader.text(pdf).split()


def test_the_same_tag_is_the_same_bytes(shop):
    """Printed twice, it is the same paper."""
    sheet = TagSheet(shop, (a_label(),))
    assert tags(sheet) == tags(sheet)


def test_a_longer_address_takes_the_next_size_and_a_far_too_long_one_is_refused(shop, reader):
    """47 characters of host still fit, with the same module; beyond that a sentence says so."""
    longer = a_label(address=f"https://{'b' * 35}.example.org/t/{a_code(1)}")
    assert side_mm(longer.address.upper()) == pytest.approx(41 * MODULE_MM)
    assert len(reader.codes(reader.picture(tags(TagSheet(shop, (longer,)))))) == 2
    with pytest.raises(BadInput, match="too long"):
        tags(TagSheet(shop, (a_label(address=f"https://{'b' * 60}.example.org/t/{a_code(1)}"),)))


@pytest.mark.parametrize("site", ["https://b.example", SITE])
def test_the_phone_a_finder_calls_stands_clear_of_the_number(shop, reader, site):
    """Where the shop's name takes two lines the phone comes third, whole, above the tops of the
    giant figures.
    """
    code = a_code(1)
    pdf = tags(
        TagSheet(
            replace(shop, name="Quillmarsh Leather Bench and Boot Repair"),
            (a_label(address=f"{site}/t/{code}"),),
        )
    )
    places: dict[str, tuple[float, float]] = {}

    def seen(text, _matrix, placed, _font, size):
        if text.strip():
            places[text.strip()] = (placed[5], size)

    reader.read(pdf).pages[0].extract_text(visitor_text=seen)
    baseline, size = places["41"]
    assert places["555 0142"][0] + 1 < baseline - 0.66 * size  # counted down from the top


@pytest.mark.parametrize(
    ("paper", "steps"), [("label", list(range(12))), ("a4", [0, 8])], ids=["labels", "sheets"]
)
def test_how_many_tags_are_made_is_told_as_they_are(
    shop: Letterhead, paper: Paper, steps: list[int]
) -> None:
    told: list[tuple[str, int, int]] = []
    sheet = TagSheet(shop, tuple(a_label(n) for n in range(12)), paper)
    with how_far.told_to(lambda *step: told.append(step)):
        tags(sheet)
    made = [(done, of) for what, done, of in told if what == "Making tags"]
    assert list(dict.fromkeys(made)) == [(done, 12) for done in steps]
    assert told[-1] == ("Putting the pages together", 0, 1)
