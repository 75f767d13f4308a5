"""What sets the pages is given our own letters and pictures, and fetches nothing else."""

from __future__ import annotations

import io
import json
import subprocess
import sys

import pypdf
import pytest
from support.paths import CHECKOUT

from fitcounter.papers import pdf_writer


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/passwd",
        "http://127.0.0.1:9/x.png",
        "https://papers.invalid/../../../etc/passwd",
        "https://papers.invalid/fonts/../print.css",
        "https://papers.invalid/fonts/%2e%2e/print.css",
        "https://papers.invalid/fonts/SourceSans3-OFL.txt",
        "ftp://example.com/",
        "data:text/plain,x",
        "/etc/passwd",
        "",
    ],
)
def test_the_press_fetches_nothing_but_its_letters(address):
    """Every other address, also one that climbs out of the folder, is refused without looking."""
    with pytest.raises(ValueError, match="nothing but their own"):
        pdf_writer._fetcher({"picture": b"x"}).fetch(address)


GREEDY_PAGE = """<link rel=stylesheet href="file:///etc/hosts">
<link rel=attachment href="file:///etc/passwd">
<style>@import "file:///etc/hosts"; p { background: url(file:///etc/passwd) }
@font-face { font-family: x; src: url(file:///etc/group) } p { font-family: x }</style>
<p>x<img src="file:///etc/passwd"><img src="http://127.0.0.1:9/">
<object data="file:///etc/passwd"></object>
<embed src="file:///etc/passwd">
<svg><image href="file:///etc/passwd"/><use href="file:///etc/passwd#x"/></svg>
<a rel=attachment href="file:///etc/passwd">a</a>"""
WATCHED = f"""
import json, logging, sys
seen, watching = [], False
STARTED = ("socket.connect", "socket.getaddrinfo", "subprocess.Popen", "os.system")
def watch(event, arguments):
    if watching and event == "open":
        seen.append(str(arguments[0]))
    if watching and event in STARTED:
        seen.append(event)
sys.addaudithook(watch)
from fitcounter.papers import pdf_writer
import weasyprint
logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
pdf_writer.set_pdf("<p>warm", {{}})
page = {GREEDY_PAGE!r}
watching = True
pdf_writer.set_pdf(page, {{}})
ours, seen = seen, []
weasyprint.HTML(string=page).write_pdf()
print(json.dumps([ours, seen]))
"""


def test_a_page_full_of_addresses_opens_no_file_and_no_connection():
    """Watched from inside: our press opens nothing but temporary copies of its letters, the library
    alone opens it all.
    """
    result = subprocess.run(
        [sys.executable, "-c", WATCHED], cwd=CHECKOUT, capture_output=True, text=True, timeout=60
    )
    assert result.returncode == 0, result.stderr
    ours, alone = json.loads(result.stdout)
    assert [name for name in ours if not name.endswith(".ttf") and "weasyprint" not in name] == []
    assert {"/etc/passwd", "/etc/hosts", "socket.connect"} <= set(alone)


def test_a_pages_own_style_wins_over_the_common_one_and_words_of_people_begin_none() -> None:
    """Also where the common one is selected more narrowly; what stands escaped stays text."""
    page = "<style>h1 { color: red } @page { size: 40mm 30mm }</style><h1 class=small>x</h1>"
    before, style, after = pdf_writer._parts(page)
    assert (before, style, after) == (
        "",
        "h1 { color: red } @page { size: 40mm 30mm }",
        "<h1 class=small>x</h1>",
    )
    assert pdf_writer._parts("<p>&lt;style&gt;") == ("<p>&lt;style&gt;", "", "")
    loud = page.replace("h1 {", "h1 { font-size: 5pt; font-weight: 400;")
    assert {size for _, size in letters(pdf_writer.set_pdf(loud, {}))} == {5.0}


def letters(pdf: bytes) -> list[tuple[str, float]]:
    """Every piece of text of a PDF with the size of its letters in points."""
    seen: list[tuple[str, float]] = []

    def look(text: str, matrix: list[float], place: list[float], font: object, size: float) -> None:
        if text.strip():
            seen.append((text, round(size * matrix[0] * place[0], 1)))

    pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=look)
    return seen
