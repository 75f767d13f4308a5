"""Style sheets and scripts go out packed, once; pages are packed elsewhere."""

from __future__ import annotations

import gzip

import pytest
from flask import Flask

PACKS = {"Accept-Encoding": "gzip"}


@pytest.fixture
def sheet(app: Flask) -> str:
    return f"{app.static_url_path}/app.css"


def test_a_style_sheet_is_packed_for_who_can_read_it_and_the_same_unpacked(
    app: Flask, sheet: str
) -> None:
    client = app.test_client()
    plain = client.get(sheet, buffered=True)
    for _ in range(2):
        packed = client.get(sheet, headers=PACKS, buffered=True)
        assert packed.headers["Content-Encoding"] == "gzip"
        assert gzip.decompress(packed.data) == plain.data
        assert int(packed.headers["Content-Length"]) == len(packed.data) < len(plain.data)
    assert "Content-Encoding" not in plain.headers
    assert plain.vary.find("Accept-Encoding") >= 0


@pytest.mark.parametrize("accepts", ["", "br", "gzip;q=0"])
def test_who_cannot_read_it_gets_it_as_it_is(app: Flask, sheet: str, accepts: str) -> None:
    takes = {"Accept-Encoding": accepts}
    answer = app.test_client().get(sheet, headers=takes, buffered=True)
    assert "Content-Encoding" not in answer.headers


def test_a_part_of_a_file_is_not_packed(app: Flask, sheet: str) -> None:
    part = app.test_client().get(sheet, headers={**PACKS, "Range": "bytes=0-9"}, buffered=True)
    assert "Content-Encoding" not in part.headers


def test_the_service_worker_is_packed_too(app: Flask) -> None:
    worker = app.test_client().get("/sw.js", headers=PACKS, buffered=True)
    assert b"addEventListener" in gzip.decompress(worker.data)
