"""What holds for every paper: its sizes, black and white, white edges, the same bytes again, and no
harm by any name.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from papers.conftest import HOSTILE
from papers.paper_records import (
    CARD,
    CLAIM,
    CONSENT,
    EVENING,
    LEG_CARD,
    NOTICE,
    RECEIPT,
    SLIPS,
    WALL,
    printed,
)

from fitcounter.papers import records
from fitcounter.papers.bench_papers import bench_card, blank_slips, evening_sheet, wall_strip
from fitcounter.papers.claim_check import claim_check, consent, receipt
from fitcounter.papers.letters import leg_card, notice_letter

PAPERS = {
    "claim check": (claim_check, CLAIM, "Claim check", 1),
    "receipt": (receipt, RECEIPT, "Receipt, ticket 41", 1),
    "consent": (consent, CONSENT, "What may happen with these boots", 1),
    "leg card": (leg_card, LEG_CARD, "Your leg measurements", 1),
    "notice": (notice_letter, NOTICE, "Your items are ready to pick up", 1),
    "bench card": (bench_card, CARD, "Bench card 41", 1),
    "evening sheet": (evening_sheet, EVENING, "Evening sheet, Friday, April 24, 2026", 1),
    "slips": (blank_slips, SLIPS, "Slips for a day on paper", 5),
    "wall strip": (wall_strip, WALL, "Trees", 1),
}
# What stands on a paper twice comes from the same lines of its template: once is enough where each
# of many names takes seconds.
ONCE = {
    "slips": (blank_slips, replace(SLIPS, copies=1), "Slips for a day on paper", 3),
}


@pytest.fixture(params=PAPERS)
def paper(request):
    """(printing function, record, title, pages) of each paper."""
    return PAPERS[request.param]


@pytest.mark.parametrize(("size", "wanted"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_every_paper_on_both_sizes(paper, reader, size, wanted):
    """On A4 and on Letter: the page size, the number of pages, title, language and structure, our
    own letters only.
    """
    make, record, title, pages = paper
    pdf = printed(make, replace(record, paper=size))
    assert reader.size_mm(pdf) == pytest.approx(wanted, abs=0.05)
    assert len(reader.pages(pdf)) == pages
    assert reader.is_accessible(pdf, title)
    assert reader.fonts(pdf)
    assert all(font.startswith("Paper-S") for font in reader.fonts(pdf)), reader.fonts(pdf)


def test_every_paper_is_black_and_white(paper, reader):
    """Nothing on any page has a colour: what it says survives a copier."""
    make, record, _, _ = paper
    import pypdfium2

    document = pypdfium2.PdfDocument(printed(make, record))
    for page in document:
        red, green, blue = np.moveaxis(
            np.asarray(page.render(scale=1).to_pil().convert("RGB")).astype(int), 2, 0
        )
        assert abs(red - green).max() <= 2
        assert abs(green - blue).max() <= 2
    document.close()


def test_nothing_runs_off_a_page(paper, reader):
    """Around every page at least 4 mm stay white, which is what a printer needs."""
    make, record, _, pages = paper
    pdf = printed(make, replace(record, paper="letter"))
    for number in range(pages):
        picture = np.asarray(reader.picture(pdf, number, 100)) < 200
        edge = round(4 / 25.4 * 100)
        assert not picture[:edge].any()
        assert not picture[-edge:].any()
        assert not picture[:, :edge].any()
        assert not picture[:, -edge:].any()


def test_the_same_record_is_the_same_bytes(paper):
    """Printed twice, it is the same paper."""
    make, record, _, _ = paper
    assert make(record) == printed(make, record)


def hostile_everywhere(record, text):
    """The record with this text in place of every word in it, in nested records too; choices, links
    and drawings stay.
    """
    if isinstance(record, str):
        return text
    if isinstance(record, tuple):
        return tuple(hostile_everywhere(part, text) for part in record)
    if not hasattr(record, "__dataclass_fields__"):
        return record
    kept = (
        {"paper", "language", "unit", "side", "link", "address", "code", "drawing", "shows"}
        if not isinstance(record, records.Letterhead)
        else set()
    )
    changed = {
        name: hostile_everywhere(getattr(record, name), text)
        for name in record.__dataclass_fields__
        if name not in kept and getattr(record, name) not in ("", None)
    }
    return replace(record, **changed)


def each_with_each():
    """Every paper with three of the names and every name on two papers at least; the slow form has
    every paper with every name.
    """
    for i, name in enumerate(PAPERS):
        for j, text in enumerate(HOSTILE):
            marks = () if (i + j) % 3 == 0 else (pytest.mark.slow,)
            yield pytest.param(name, text, id=f"{name}-{j}", marks=marks)


@pytest.mark.parametrize(("name", "hostile"), list(each_with_each()))
def test_a_hostile_name_everywhere_breaks_no_paper(name, reader, hostile):
    """With the text in every field at once: it prints, nothing is computed or hidden, no font or
    page is lost.
    """
    make, record, _, pages = {**PAPERS, **ONCE}[name]
    pdf = make(hostile_everywhere(record, hostile))
    read = reader.read(pdf)
    assert pages <= len(read.pages) <= pages + 7
    text = "".join(reader.text(pdf).split())
    assert "49" not in text
    visible = "".join(c for c in hostile if c.isalnum() and c.isascii())
    assert visible[:18] in "".join(c for c in text if c.isalnum())
    assert not any(
        "/JavaScript" in str(page) or "/EmbeddedFile" in str(page) for page in read.pages
    )
    assert (
        "/Names" not in read.trailer["/Root"]
        or "/EmbeddedFiles" not in read.trailer["/Root"]["/Names"]
    )
