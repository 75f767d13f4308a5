"""What the tests of the papers look with: pictures of pages, the codes in them, text and structure
of a PDF.
"""

from __future__ import annotations

import io
from functools import lru_cache

import numpy as np
import pypdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image
from support.paper_text import text_of, text_of_pages

from fitcounter.papers.records import Letterhead

HOSTILE = (
    "<img src=file:///etc/passwd>",
    "<link rel=stylesheet href=http://203.0.113.9/x.css><style>*{display:none}</style>",
    "{{7*7}}{% for x in range(9) %}x{% endfor %}",
    "\u202egnihton\u202c \u2067\u200fmarks\u2069",
    "</title></style><script>1</script><h1>",
    "%(name)s %s {0} \x00\x07\ud800 ok",
    "Wolfeschlegelsteinhausenbergerdorff" * 9,
    "a b " * 75,
    "url(file:///etc/passwd) @import 'x'; } body { display: none }",
)


class Reader:
    """Looks at a PDF the way a person, a camera or a screen reader does."""

    @staticmethod
    def picture(pdf: bytes, page: int = 0, dpi: int = 300) -> Image.Image:
        """A page as a grey picture."""
        document = pypdfium2.PdfDocument(pdf)
        try:
            return document[page].render(scale=dpi / 72, grayscale=True).to_pil()
        finally:
            document.close()

    @staticmethod
    def codes(image: Image.Image) -> list[tuple[str, tuple[int, int, int, int]]]:
        """Every QR code seen in a picture: its text and the box (left, top, right, bottom) around
        the symbol.
        """
        found = []
        for result in zxingcpp.read_barcodes(
            np.asarray(image), formats=zxingcpp.BarcodeFormat.QRCode
        ):
            place = result.position
            corners = [place.top_left, place.top_right, place.bottom_right, place.bottom_left]
            xs, ys = [corner.x for corner in corners], [corner.y for corner in corners]
            found.append((result.text, (min(xs), min(ys), max(xs), max(ys))))
        return found

    @staticmethod
    @lru_cache(maxsize=8)  # in Python, and all of it for each thing that is looked at
    def read(pdf: bytes) -> pypdf.PdfReader:
        """The PDF as pypdf reads it."""
        return pypdf.PdfReader(io.BytesIO(pdf))

    def pages(self, pdf: bytes) -> list[str]:
        """The text of each page, white space made single."""
        return text_of_pages(pdf)

    def text(self, pdf: bytes) -> str:
        """All text of all pages, white space made single."""
        return text_of(pdf)

    def tags(self, pdf: bytes) -> set[str]:
        """The names of all elements in the PDF's structure tree."""
        return {str(node["/S"]).removeprefix("/") for node in self._elements(pdf) if "/S" in node}

    def said_of_pictures(self, pdf: bytes) -> list[str]:
        """What is read aloud in place of each picture."""
        return [str(node["/Alt"]) for node in self._elements(pdf) if "/Alt" in node]

    def outline(self, pdf: bytes) -> list[str]:
        """The structure elements in reading order, by name."""
        names: list[str] = []

        def walk(node: object) -> None:
            node = node.get_object()  # type: ignore[attr-defined]
            if isinstance(node, pypdf.generic.ArrayObject):
                for one in node:
                    walk(one)
            elif isinstance(node, pypdf.generic.DictionaryObject):
                if "/S" in node:
                    names.append(str(node["/S"]).removeprefix("/"))
                if "/K" in node:
                    walk(node["/K"])

        walk(self.read(pdf).trailer["/Root"]["/StructTreeRoot"])
        return names

    def headed_by(self, pdf: bytes) -> list[int]:
        """For each cell of data, how many header cells of the paper it names as its own."""
        nodes = self._elements(pdf)
        known = {str(node["/ID"]) for node in nodes if node.get("/S") == "/TH" and "/ID" in node}
        cells = [_attributes(node).get("/Headers", []) for node in nodes if node.get("/S") == "/TD"]
        return [sum(str(one) in known for one in names) for names in cells]

    def _elements(self, pdf: bytes) -> list[pypdf.generic.DictionaryObject]:
        """Every element of the PDF's structure tree."""
        found = []
        waiting = [self.read(pdf).trailer["/Root"]["/StructTreeRoot"]]
        while waiting:
            node = waiting.pop().get_object()
            if isinstance(node, pypdf.generic.ArrayObject):
                waiting.extend(node)
            elif isinstance(node, pypdf.generic.DictionaryObject):
                found.append(node)
                waiting += [node["/K"]] if "/K" in node else []
        return found

    def size_mm(self, pdf: bytes, page: int = 0) -> tuple[float, float]:
        """Width and height of a page in millimetres."""
        document = pypdfium2.PdfDocument(pdf)
        try:
            left, bottom, right, top = document[page].get_mediabox(fallback_ok=False)
        finally:
            document.close()
        return (right - left) / 72 * 25.4, (top - bottom) / 72 * 25.4

    def is_accessible(self, pdf: bytes, title: str, language: str = "en") -> bool:
        """Whether title, language, marks and a structure tree with headings are there, and PDF/UA-1
        is declared.
        """
        reader = self.read(pdf)
        root = reader.trailer["/Root"]
        return (
            reader.metadata.title == title
            and root["/Lang"] == language
            and bool(root["/MarkInfo"]["/Marked"])
            and bool(root["/ViewerPreferences"]["/DisplayDocTitle"])
            and b"pdfuaid" in root["/Metadata"].get_object().get_data()
            and {"Document", "H1", "P"} <= self.tags(pdf)
        )

    def letter_sizes(self, pdf: bytes) -> set[float]:
        """How large the letters are that are set, in points."""
        sizes = set()
        for page in pypdfium2.PdfDocument(pdf):
            text = page.get_textpage()
            for place in range(text.count_chars()):
                if text.get_text_range(place, 1).strip():
                    sizes.add(round(pypdfium2.raw.FPDFText_GetFontSize(text, place), 2))
        return sizes

    def fonts(self, pdf: bytes) -> set[str]:
        """The families of letters used, without the prefix of the subset."""
        names = set()
        for page in self.read(pdf).pages:
            for font in page["/Resources"].get("/Font", {}).values():
                names.add(str(font.get_object()["/BaseFont"]).rsplit("+", 1)[-1].lstrip("/"))
        return names


def _attributes(node: pypdf.generic.DictionaryObject) -> pypdf.generic.DictionaryObject:
    """The attributes of a structure element as one dictionary, whether one or several are given."""
    given = node.get("/A", pypdf.generic.DictionaryObject()).get_object()
    several = given if isinstance(given, pypdf.generic.ArrayObject) else [given]
    together = pypdf.generic.DictionaryObject()
    for one in several:
        together.update(one.get_object())
    return together


@pytest.fixture(scope="session")
def reader() -> Reader:
    """The eyes of these tests."""
    return Reader()


@pytest.fixture(scope="session")
def shop() -> Letterhead:
    """The invented shop."""
    return Letterhead(
        "Quillmarsh Leather Bench", "555 0142", "8 Sallow Row", "Tuesday to Saturday, 9 to 6"
    )


@pytest.fixture(params=HOSTILE, ids=range(len(HOSTILE)))
def hostile(request: pytest.FixtureRequest) -> str:
    """A name that tries to fetch, to inject or to break a page."""
    return request.param
