"""Pages go out packed to whoever reads them so, and are the same unpacked."""

from __future__ import annotations

import gzip

import pytest
from support.cast import Counter

from fitcounter.web.responses import page_gzip

PACKS = {"Accept-Encoding": "gzip"}


def test_a_page_is_packed_and_reads_as_it_would_have(counter: Counter) -> None:
    page = counter.client.get("/", headers=PACKS)
    assert page.headers["Content-Encoding"] == "gzip"
    assert int(page.headers["Content-Length"]) == len(page.data)
    assert "Accept-Encoding" in page.headers["Vary"]
    assert "Cookie" in page.headers["Vary"]
    text = gzip.decompress(page.data).decode()
    assert text.startswith("<!DOCTYPE html>")
    assert "</html>" in text


@pytest.mark.parametrize("accepts", ["", "br", "gzip;q=0"])
def test_who_cannot_read_it_gets_it_as_it_is(counter: Counter, accepts: str) -> None:
    page = counter.client.get("/", headers={"Accept-Encoding": accepts})
    assert "Content-Encoding" not in page.headers
    assert page.text.startswith("<!DOCTYPE html>")


def test_short_answers_and_what_is_no_page_are_not_packed(counter: Counter) -> None:
    for path in ("/api/csrf", "/manifest.webmanifest", "/photos/1"):
        answer = counter.client.get(path, headers=PACKS)
        assert (
            answer.mimetype != "text/html"
            or len(answer.data) < page_gzip.LEAST_BYTES
            or (answer.headers["Content-Encoding"] == "gzip")
        )
    assert "Content-Encoding" not in counter.client.get("/api/csrf", headers=PACKS).headers
