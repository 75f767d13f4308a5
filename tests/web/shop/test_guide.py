"""The owner's guide: every chapter a page with pictures that are there, and all of it one PDF."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator

import pypdf
import pytest
from support.cast import Counter
from support.paper_text import text_of

from fitcounter.desk.documents import guide


@pytest.mark.parametrize("name", [name for name, _ in guide.CHAPTERS])
def test_a_chapter_stands_on_its_page_and_names_the_next(owner: Counter, name: str) -> None:
    title, following = guide.chapter(name)
    page = owner.get(f"/guide/{name}").text
    assert f"<h1>{title}</h1>" in page
    assert (f"Next: {following[1]}" in page) if following else ("Next:" not in page)
    for address in re.findall(r'<img class="shot"[^>]* src="([^"]+)"', page):
        answer = owner.get(address)
        assert answer.status_code == 200
        assert answer.mimetype == "image/webp"


def test_the_first_page_leads_to_every_chapter_and_the_shop_page_leads_there(
    owner: Counter,
) -> None:
    page = owner.get("/guide").text
    for name, title in guide.CHAPTERS:
        assert f'href="/guide/{name}">{title}</a>' in page
    assert 'href="/guide"' in owner.get("/shop").text


def test_a_chapter_that_is_not_there_is_not_found(owner: Counter) -> None:
    assert owner.get("/guide/the-cellar").status_code == 404


def pictures(resources: pypdf.generic.PdfObject) -> Iterator[int]:
    """The number of each picture that a page or a part of it shows. Nothing is unpacked."""
    named = resources.get("/XObject", {})
    for name in named:
        one = named[name]
        if one["/Subtype"] == "/Image":
            yield named.raw_get(name).idnum
        else:
            yield from pictures(one.get("/Resources", {}))


def test_the_whole_guide_is_one_pdf_with_every_chapter_and_picture(owner: Counter) -> None:
    answer = owner.get("/guide.pdf")
    assert answer.mimetype == "application/pdf"
    document = pypdf.PdfReader(io.BytesIO(answer.data))
    text = text_of(answer.data)
    for _, title in guide.CHAPTERS:
        assert text.count(title) >= 2, title
    shown = {one for page in document.pages for one in pictures(page["/Resources"])}
    assert len(shown) == len(guide.PICTURES)
    assert "clot" in text
    assert "45 °C" in text


def test_every_picture_of_the_guide_is_used_in_a_chapter(owner: Counter) -> None:
    pages = "".join(owner.get(f"/guide/{name}").text for name, _ in guide.CHAPTERS)
    used = set(re.findall(r"/guide/pictures/([a-z-]+)\.webp", pages))
    assert used == set(guide.PICTURES)
