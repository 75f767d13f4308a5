"""The press: a page of HTML from templates/papers/ becomes a tagged PDF (PDF/UA-1 declared, ISO
14289-1).

The library that sets the pages is loaded only when a PDF is asked for. It may fetch nothing: every
address it asks for is looked up in a fixed list of the project's own letters and in the pictures
handed in with the paper. The same record gives the same bytes, so that a paper printed twice is the
same paper.
"""

from __future__ import annotations

import atexit
import base64
import ctypes
import hashlib
import importlib.util
import threading
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Final, Protocol

from fitcounter.errors import Unavailable
from fitcounter.papers.html import Say, in_english, page
from fitcounter.papers.records import Paper
from fitcounter.settings import STATIC

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher

_ORIGIN: Final = "https://papers.invalid/"  # never contacted: the name the page's own files go by
_FONTS: Final = (
    "SourceSans3-Regular",
    "SourceSans3-Bold",
    "SourceSerif4-Regular",
    "SourceSerif4-Bold",
)
_LIBRARIES: Final = (
    ("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll"),
    ("libpangoft2-1.0.so.0", "libpangoft2-1.0.dylib", "libpangoft2-1.0-0.dll"),
)
_PAGE_SIZES: Final = {"a4": "210mm 297mm", "letter": "8.5in 11in", "label": "62mm 100mm"}
_press_lock = threading.Lock()  # the font list behind the press is not made for two threads at once


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


@dataclass(frozen=True, slots=True)
class _Press:
    """What is made once and used for every paper."""

    fonts: FontConfiguration
    sheet: CSS


def ready() -> str | None:
    """None when PDFs can be made here; otherwise one sentence that says what is missing and what to
    do.
    """
    try:
        _prove()
    except Unavailable as why:
        return why.sentence
    return None


@cache
def _prove() -> None:
    """Raises Unavailable while something is missing; looks again until all is there, and then never
    again.
    """
    for names in _LIBRARIES:
        if not any(_can_load(name) for name in names):
            raise Unavailable(
                "PDFs need the library Pango, which is not installed here: on Debian or Ubuntu run"
                " “apt-get install libpango-1.0-0 libpangoft2-1.0-0”; until then use the print"
                " pages."
            )
    if importlib.util.find_spec("weasyprint") is None:
        raise Unavailable(
            "PDFs need the Python package weasyprint, which is not installed here; until then use"
            " the print pages."
        )
    # Without one usable font the library behind the press takes the whole process down, so look
    # before it does.
    if damaged := _damaged_font():
        raise Unavailable(
            f"The letters for printing are missing or damaged: put static/fonts/{damaged} back from"
            " the download."
        )


def print_pdf(
    template: str,
    *,
    title: str,
    paper: Paper,
    language: str = "en",
    say: Say = in_english,
    pictures: Mapping[str, bytes] | None = None,
    **words: Any,
) -> bytes:
    """A paper as PDF.

    template: file in templates/papers/. title, language: of the document. say: gives the sentence
    in that language.
    pictures: PNG bytes by the name the template uses. words: what the template prints, escaped
    there. Raises Unavailable with one sentence when PDFs cannot be made here.
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
    with _press_lock:
        return _set(html, pictures or {})


def print_page(
    template: str, *, title: str, paper: Paper, language: str = "en", **words: Any
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
        template, title=title, language=language, page_size=_PAGE_SIZES[paper], paper=paper, **words
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


def _set(html: str, pictures: Mapping[str, bytes]) -> bytes:
    """Set one page of HTML.

    The identifier follows from the content, so that equal papers are equal bytes.
    """
    from weasyprint import HTML

    press = _press()
    document = HTML(string=html, base_url=_ORIGIN, url_fetcher=_fetcher(pictures))
    pdf = document.write_pdf(
        stylesheets=[press.sheet],
        font_config=press.fonts,
        pdf_variant="pdf/ua-1",
        pdf_identifier=hashlib.sha256(html.encode()).digest()[:16],
    )
    return bytes(pdf)


@cache
def _press() -> _Press:
    """The letters and the common style sheet, read once: this is what makes every later paper
    quick.
    """
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    atexit.register(
        _press.cache_clear
    )  # the copies of the letters are removed while there is still a Python to do it
    text = (STATIC / "print.css").read_text(encoding="utf-8")
    return _Press(
        fonts, CSS(string=text, base_url=_ORIGIN, url_fetcher=_fetcher({}), font_config=fonts)
    )


def _fetcher(pictures: Mapping[str, bytes]) -> URLFetcher:
    """What answers when the press asks for an address: our own letters and the given pictures,
    nothing else.
    """
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class OwnFilesOnly(URLFetcher):  # type: ignore[misc]  # the library carries no types
        """Looks addresses up in a fixed list; opens no file and no connection by name."""

        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
            name = url.removeprefix(_ORIGIN)
            if name in pictures:
                return URLFetcherResponse(url, pictures[name], {"Content-Type": "image/png"})
            if name in {f"fonts/{font}.ttf" for font in _FONTS}:
                return URLFetcherResponse(
                    url, (STATIC / name).read_bytes(), {"Content-Type": "font/ttf"}
                )
            raise ValueError("papers fetch nothing but their own letters and pictures")

    return OwnFilesOnly()


def _can_load(name: str) -> bool:
    """Whether the system's loader finds this library."""
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def _damaged_font() -> str:
    """The first file of letters that is missing or not as it was delivered
    (static/fonts/SHA256SUMS), "" when all are whole.
    """
    try:
        lines = (STATIC / "fonts" / "SHA256SUMS").read_text(encoding="ascii").splitlines()
        delivered = {name: digest for digest, name in (line.split() for line in lines)}
    except (OSError, ValueError):
        return "SHA256SUMS"
    for name in (f"{font}.ttf" for font in _FONTS):
        try:
            found = hashlib.sha256((STATIC / "fonts" / name).read_bytes()).hexdigest()
        except OSError:
            return name
        if found != delivered.get(name):
            return name
    return ""
