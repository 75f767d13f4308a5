"""The press: a page of HTML from templates/papers/ becomes a tagged PDF (PDF/UA-1 declared, ISO
14289-1).

The page is filled here and set in a process of its own (pdf_writer), started when a PDF is asked
for. The same record gives the same bytes, so that a paper printed twice is the same paper.
"""

from __future__ import annotations

import base64
import ctypes
import importlib.util
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Any, Final, Protocol

from fitcounter import how_far
from fitcounter.errors import Unavailable, message
from fitcounter.papers.fonts import damaged_font
from fitcounter.papers.html import Say, in_english, page
from fitcounter.papers.own_process import PRESS
from fitcounter.papers.records import Paper
from fitcounter.settings import STATIC

_LIBRARIES: Final = (
    ("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll"),
    ("libpangoft2-1.0.so.0", "libpangoft2-1.0.dylib", "libpangoft2-1.0-0.dll"),
)
_PAGE_SIZES: Final = {
    "a4": "210mm 297mm",
    "letter": "8.5in 11in",
    "label": "62mm 100mm",
    "a6": "105mm 148mm",
    "half": "5.5in 8.5in",
    "roll80": "80mm 297mm",
    "roll58": "58mm 297mm",
}
_ROLL_MM: Final = {"roll80": 80, "roll58": 58}  # how wide; the press finds how long


@dataclass(frozen=True, slots=True)
class Counted:
    """What is told while a paper is made: what is being made, how many of it, how many a page."""

    what: str = message("Making the paper")
    things: int = 1
    a_page: int = 1


A_PAPER: Final = Counted()


class Press(Protocol):
    """What makes a paper out of a template and its words: print_pdf, or a page_press."""

    def __call__(
        self,
        template: str,
        *,
        title: str,
        paper: Paper,
        language: str = "en",
        say: Say = in_english,
        pictures: Mapping[str, bytes] | None = None,
        **words: Any,
    ) -> bytes: ...


def ready() -> str | None:
    """None when PDFs can be made here; otherwise one sentence that says what is missing and what to
    do. Raises Unavailable where that could not be found out.
    """
    try:
        _prove()
    except _Missing as what:
        return what.sentence
    return None


class _Missing(Unavailable):
    """Something that PDFs need is not there."""


@cache
def _prove() -> None:
    """Raises _Missing while something is missing; looks again until all is there, and then never
    again.
    """
    if not PRESS.do(_has_pango):
        raise _Missing(
            message(
                "PDFs need the library Pango, which is not installed here: on Debian or Ubuntu"
                " run “apt-get install libpango-1.0-0 libpangoft2-1.0-0”; until then use the"
                " print pages."
            )
        )
    if importlib.util.find_spec("weasyprint") is None:
        raise _Missing(
            message(
                "PDFs need the Python package weasyprint, which is not installed here; until"
                " then use the print pages."
            )
        )
    # Without one usable font the library behind the press takes its process down, so look before it
    # does.
    if damaged := damaged_font():
        raise _Missing(
            message(
                "The letters for printing are missing or damaged: put static/fonts/{damaged}"
                " back from the download.",
                damaged=damaged,
            )
        )


def print_pdf(
    template: str,
    *,
    title: str,
    paper: Paper,
    language: str = "en",
    say: Say = in_english,
    pictures: Mapping[str, bytes] | None = None,
    counted: Counted = A_PAPER,
    **words: Any,
) -> bytes:
    """A paper as PDF.

    template: file in templates/papers/. title, language: of the document. say: gives the sentence
    in that language.
    pictures: PNG bytes by the name the template uses. counted: what is told of how far it is.
    words: what the template prints, escaped there.
    Raises Unavailable with one sentence when PDFs cannot be made here.
    """
    _prove()
    html = page(
        template,
        title=title,
        language=language,
        say=say,
        page_size=_PAGE_SIZES[paper],
        paper=paper,
        **words,
    )
    return PRESS.do(_set, html, dict(pictures or {}), _ROLL_MM.get(paper, 0), counted)


def _set(html: str, pictures: Mapping[str, bytes], roll_mm: int, counted: Counted) -> bytes:
    """In the process of the press, where alone its library is loaded."""

    def begun(page: int) -> None:
        how_far.tell(counted.what, (page - 1) * counted.a_page, counted.things)

    begun(1)
    writer = import_module("fitcounter.papers.pdf_writer")
    pdf: bytes = writer.set_pdf(html, pictures, roll_mm, begun)
    return pdf


def print_page(
    template: str,
    *,
    title: str,
    paper: Paper,
    language: str = "en",
    say: Say = in_english,
    **words: Any,
) -> bytes:
    """The same paper as one HTML file with its style inside, for a browser's own printing, where
    PDFs cannot be made.
    """
    style = (
        (STATIC / "print.css")
        .read_text(encoding="utf-8")
        .replace('url("fonts/', 'url("about:invalid#')
    )
    html = page(
        template,
        title=title,
        language=language,
        say=say,
        page_size=_PAGE_SIZES[paper],
        paper=paper,
        **words,
    )
    return html.replace("<style>", f"<style>\n{style}", 1).encode("utf-8")


def page_press(style: str, missing: str) -> Press:
    """A press for where PDFs cannot be made: the same paper, in the same language, as a page for
    the browser's own printing.

    style: address of the common style sheet, which the page links. missing: the sentence above it,
    on the screen alone.
    """

    def press(
        template: str,
        *,
        title: str,
        paper: Paper,
        language: str = "en",
        say: Say = in_english,
        pictures: Mapping[str, bytes] | None = None,
        **words: Any,
    ) -> bytes:
        sheet = {
            "page_size": _PAGE_SIZES[paper],
            "paper": paper,
            "linked": style,
            "missing": missing,
        }
        html = page(template, title=title, language=language, say=say, **sheet, **words)
        for name, picture in (pictures or {}).items():
            html = html.replace(
                f'src="{name}"', f'src="data:image/png;base64,{base64.b64encode(picture).decode()}"'
            )
        return html.encode("utf-8")

    return press


def _has_pango() -> bool:
    """In the process of the press: a library that was looked for this way stays loaded."""
    return all(any(_can_load(name) for name in names) for names in _LIBRARIES)


def _can_load(name: str) -> bool:
    """Whether the system's loader finds this library."""
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True
