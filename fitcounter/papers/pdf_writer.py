"""A page of HTML as a PDF, by the library that sets the pages; in a process of its own.

It may fetch nothing: every address it asks for is looked up in a fixed list of the project's own
letters and in the pictures handed in with the paper. The same page gives the same bytes, so that a
paper printed twice is the same paper.
"""

from __future__ import annotations

import atexit
import hashlib
import logging
import math
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final

from weasyprint import CSS, HTML
from weasyprint.logger import PROGRESS_LOGGER
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from fitcounter import how_far
from fitcounter.errors import message
from fitcounter.papers.fonts import FONTS
from fitcounter.settings import STATIC

_LONGEST_ROLL_MM: Final = 3000  # of a page: a PDF knows none over 5 m
_PAGE: Final = re.compile(r"Creating layout - Page (\d+)")
_TOGETHER: Final = message("Putting the pages together")
_ORIGIN: Final = "https://papers.invalid/"  # never contacted: the name the page's own files go by


@dataclass(frozen=True, slots=True)
class _Press:
    """What is made once and used for every paper."""

    fonts: FontConfiguration
    sheet: CSS


def set_pdf(
    html: str,
    pictures: Mapping[str, bytes],
    roll_mm: int = 0,
    begun: Callable[[int], None] = lambda page: None,
) -> bytes:
    """One page of HTML as a tagged PDF. pictures: PNG or WebP bytes by the name the page uses.

    The identifier follows from the content, so that equal papers are equal bytes. roll_mm: how wide
    a till roll is, which is cut where the words end; 0 for a sheet. begun: told the number of each
    page, from 1, when it is begun.
    """
    press = _press()
    before, style, after = _parts(html)
    document = HTML(string=before + after, base_url=_ORIGIN, url_fetcher=_fetcher(pictures))
    sheets = [press.sheet, _sheet_of(style)]
    if roll_mm:
        sheets.append(_cut(document, sheets, roll_mm))
    with _followed(begun):
        pdf = document.write_pdf(
            stylesheets=sheets,
            font_config=press.fonts,
            pdf_variant="pdf/ua-1",
            pdf_identifier=hashlib.sha256(html.encode()).digest()[:16],
        )
    return bytes(pdf)


class _Follower(logging.Handler):
    """Hears of each page from the log of the library, which tells of it nowhere else."""

    def __init__(self, begun: Callable[[int], None]) -> None:
        super().__init__()
        self.begun = begun

    def emit(self, record: logging.LogRecord) -> None:
        said = record.getMessage()
        if page := _PAGE.search(said):
            self.begun(int(page[1]))
        elif "Creating PDF" in said:
            how_far.tell(_TOGETHER, 0, 1)


@contextmanager
def _followed(begun: Callable[[int], None]) -> Iterator[None]:
    follower = _Follower(begun)
    PROGRESS_LOGGER.addHandler(follower)
    PROGRESS_LOGGER.setLevel(logging.INFO)
    try:
        yield
    finally:
        PROGRESS_LOGGER.removeHandler(follower)


def _cut(document: HTML, sheets: list[CSS], roll_mm: int) -> CSS:
    """The size of a roll's one page, found by setting it on a long one: up to the anchor that every
    paper ends with. What is longer still takes several long ones.
    """
    long = _of_size(roll_mm, _LONGEST_ROLL_MM)
    pages = document.render(stylesheets=[*sheets, long], font_config=_press().fonts).pages
    end = pages[-1].anchors["end"][1]  # from the top, in CSS pixels
    return _of_size(roll_mm, math.ceil(end / 96 * 25.4) + 5) if len(pages) == 1 else long


def _of_size(width_mm: int, height_mm: int) -> CSS:
    return CSS(string=f"@page {{ size: {width_mm}mm {height_mm}mm }}")


def _parts(html: str) -> tuple[str, str, str]:
    """What stands before the page's own style, the style, and what stands behind it. Words of
    people come escaped, so none of them begins a style.
    """
    before, begin, more = html.partition("<style>")
    style, end, after = more.partition("</style>")
    return (before, style, after) if begin and end else (html, "", "")


@lru_cache(maxsize=32)
def _sheet_of(style: str) -> CSS:
    """The style that papers of one kind have in common, read once."""
    return CSS(string=style, base_url=_ORIGIN, url_fetcher=_fetcher({}), font_config=_press().fonts)


@cache
def _press() -> _Press:
    """The letters and the common style sheet, read once: this is what makes every later paper
    quick.
    """
    fonts = FontConfiguration()
    atexit.register(
        _press.cache_clear
    )  # the copies of the letters are removed while there is still a Python to do it
    # in a layer, so that whatever the style of a page says of its own wins, however it is selected
    text = f"@layer common {{{(STATIC / 'print.css').read_text(encoding='utf-8')}}}"
    return _Press(
        fonts, CSS(string=text, base_url=_ORIGIN, url_fetcher=_fetcher({}), font_config=fonts)
    )


def _fetcher(pictures: Mapping[str, bytes]) -> URLFetcher:
    """What answers when the press asks for an address: our own letters and the given pictures,
    nothing else.
    """

    class OwnFilesOnly(URLFetcher):  # type: ignore[misc]  # the library carries no types
        """Looks addresses up in a fixed list; opens no file and no connection by name."""

        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
            name = url.removeprefix(_ORIGIN)
            if name in pictures:
                return URLFetcherResponse(url, pictures[name], {"Content-Type": "image/png"})
            if name in {f"fonts/{font}.ttf" for font in FONTS}:
                return URLFetcherResponse(
                    url, (STATIC / name).read_bytes(), {"Content-Type": "font/ttf"}
                )
            raise ValueError("papers fetch nothing but their own letters and pictures")

    return OwnFilesOnly()
