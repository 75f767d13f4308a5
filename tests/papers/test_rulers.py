"""The rulers are true: measured in the picture of the PDF, to a tenth of a millimetre."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from papers.conftest import HOSTILE

from fitcounter.errors import BadInput
from fitcounter.papers.bench_records import RulerMark, Rulers
from fitcounter.papers.rulers import rulers

DPI = 600
INCHES = ("4", "6", "8", "10 1/2", "12", "14", "16")
CENTIMETRES = (10, 15, 20, 25, 30, 35, 40)


def in_inches(words: str) -> Fraction:
    """'10 1/2' as an exact number of millimetres."""
    return sum((Fraction(part) for part in words.split()), Fraction(0)) * Fraction(254, 10)


@pytest.fixture(scope="module", params=["in a4", "in letter", "cm a4", "cm letter"])
def printed(request, shop):
    """(record, PDF) for both units and both papers."""
    unit, paper = request.param.split()
    marks = (
        tuple(RulerMark(in_inches(words), words) for words in INCHES)
        if unit == "in"
        else tuple(RulerMark(Fraction(10 * n), f"{n} cm") for n in CENTIMETRES)
    )
    record = Rulers(shop, marks, unit, paper)
    return record, rulers(record)


@pytest.fixture(scope="module")
def pictures(printed, reader):
    """What is seen of its three pages."""
    _, pdf = printed
    return [np.asarray(reader.picture(pdf, page, DPI)) for page in range(3)]


def mm(pixels: float) -> float:
    """Millimetres at the resolution of these pictures."""
    return pixels / DPI * 25.4


def middles(dark: np.ndarray) -> list[float]:
    """The middles of the runs of True, in pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], dark, [False])).astype(int)))
    return [(start + end) / 2 for start, end in edges.reshape(-1, 2)]


def crossing(page: np.ndarray, from_mm: float, to_mm: float) -> list[float]:
    """Where horizontal lines run all the way from one place across the page to another: millimetres
    from the top.
    """
    band = page[:, round(from_mm / 25.4 * DPI) : round(to_mm / 25.4 * DPI)]
    return [mm(row) for row in middles((band < 128).all(axis=1))]


@pytest.mark.parametrize(("page", "wide"), [(0, 30), (1, 54)], ids=["boot stick", "leg board"])
def test_every_height_is_where_it_says(printed, pictures, page, wide):
    """From the foot of the first strip, on over the next, each heavy line is at its height within
    0.1 mm.
    """
    record, _ = printed
    picture = pictures[page]
    found, below = [], 0.0
    for left in (12, 12 + wide + 4):
        lines = crossing(picture, left + 12.5, left + 15)
        end, *heights, foot = lines  # the end of strip 1 is the line that strip 2 is glued to
        found += [below + foot - line for line in heights]
        below += foot - end
    wanted = [float(mark.height_mm) for mark in record.marks]
    for height in wanted:
        assert min(abs(height - line) for line in found) <= 0.1, (height, found)
    assert len(found) == len(wanted)


def test_every_small_mark_is_where_it_says(printed, pictures):
    """All marks of the first strip, an eighth of an inch or a millimetre apart, are within 0.1 mm
    of their place.
    """
    record, _ = printed
    lines = crossing(pictures[0], 12.6, 13.8)
    foot = lines[-1]
    step = 25.4 / 8 if record.unit == "in" else 1
    marks = [foot - line for line in lines if 0.5 < foot - line < 190.5]
    assert len(marks) == int(190 / step)
    assert max(abs(mark / step - round(mark / step)) * step for mark in marks) <= 0.1


@pytest.mark.parametrize("page", [0, 1, 2])
def test_the_check_lines_are_100_mm_and_4_inches(pictures, page):
    """On every page the two lines to check measure what they say, within 0.1 mm."""
    picture = pictures[page] < 128
    lengths = []
    for row in picture[: round(30 / 25.4 * DPI)]:
        edges = np.flatnonzero(
            np.diff(np.concatenate(([False], row, [False])).astype(int))
        ).reshape(-1, 2)
        lengths += [mm(end - start) for start, end in edges if mm(end - start) > 90]
    # The ends of a line are marked by strokes of 0.2 mm; what is measured runs from the middle of
    # one to the other.
    assert {round(length - 0.2, 1) for length in lengths} <= {
        99.9,
        100.0,
        100.1,
        101.5,
        101.6,
        101.7,
    }
    assert any(abs(length - 0.2 - 100) <= 0.1 for length in lengths)
    assert any(abs(length - 0.2 - 101.6) <= 0.1 for length in lengths)


def test_what_the_wall_takes_off(printed, reader):
    """2 π times the wall for an outside tape, four times for a boot laid flat: 2 mm is 12.6 mm,
    about 1/2 in, or 8.0.
    """
    _, pdf = printed
    text = reader.pages(pdf)[2]
    assert "1 mm 6.3 mm 1/4 in 4.0 mm 3/16 in" in text
    assert "2 mm 12.6 mm 1/2 in 8.0 mm 5/16 in" in text
    assert "2.5 mm 15.7 mm 5/8 in 10.0 mm 3/8 in" in text


def test_three_pages_of_the_right_size_say_to_print_at_full_size(printed, reader):
    """Boot stick, leg board, wall card; each strip fits its page; the paper is accessible."""
    record, pdf = printed
    assert len(reader.pages(pdf)) == 3
    assert reader.size_mm(pdf) == pytest.approx(
        (210, 297) if record.paper == "a4" else (215.9, 279.4), abs=0.05
    )
    assert "Print at 100 %" in reader.text(pdf)
    assert reader.is_accessible(pdf, "Boot stick, leg board and wall card")


@pytest.mark.parametrize("height", [Fraction(0), Fraction(-3), Fraction(601), Fraction(10**9)])
def test_a_height_no_boot_has_is_refused(shop, height):
    """Nothing is drawn for a height of zero, below it, or above 600 mm; the sentence says what to
    type.
    """
    with pytest.raises(BadInput, match="between 0 and 600 mm") as refused:
        rulers(Rulers(shop, (RulerMark(height, "x"),), "in"))
    assert refused.value.typed == "x"


def test_hostile_height_names_stay_on_their_strip(shop, reader):
    """Whatever heights are called, it is three pages and the strip does not grow."""
    marks = tuple(RulerMark(Fraction(10 * n), name) for n, name in enumerate(HOSTILE, start=2))
    pdf = rulers(Rulers(shop, marks, "in"))
    assert len(reader.pages(pdf)) == 3
    assert "Tab" not in reader.text(pdf)
