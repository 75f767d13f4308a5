"""The words of a PDF, read by PDFium: by pypdf, in Python, they took a quarter of all tests of
papers.
"""

from __future__ import annotations

import pypdfium2

HYPHEN_AT_AN_END = "\x02"  # how PDFium marks the hyphen that a line ends with


def text_of_pages(pdf: bytes) -> list[str]:
    """All text of each page, its white space made single."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        found = [page.get_textpage().get_text_bounded() for page in document]
    finally:
        document.close()
    return [" ".join(text.replace(HYPHEN_AT_AN_END, "-").split()) for text in found]


def text_of(pdf: bytes) -> str:
    """All text of all pages."""
    return " ".join(text_of_pages(pdf))
