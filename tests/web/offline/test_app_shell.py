"""What a phone keeps of the program: one version of it, pages of nobody, and a fresh token."""

from __future__ import annotations

import shutil
from pathlib import Path

from flask import Flask
from support.cast import Counter
from support.paths import CHECKOUT

from fitcounter.web.offline import app_shell


def test_one_changed_byte_is_another_version_and_a_font_is_none(tmp_path: Path) -> None:
    (tmp_path / "static").mkdir()
    for name in app_shell._SERVED:
        kept = tmp_path / "templates" / name
        kept.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(CHECKOUT / "templates" / name, kept)
    style = tmp_path / "static" / "app.css"
    style.write_text("a{}")
    first = app_shell.version(tmp_path)
    assert len(first) == 12
    (tmp_path / "static" / "big.ttf").write_bytes(b"0")
    assert app_shell.version(tmp_path) == first
    style.write_text("b{}")
    assert app_shell.version(tmp_path) != first
    style.write_text("a{}")
    assert app_shell.version(tmp_path) == first
    (tmp_path / "templates" / "base.html").write_text("")
    assert app_shell.version(tmp_path) != first


def test_only_what_the_screens_need_at_once_is_kept_and_all_of_it_is_there(app: Flask) -> None:
    files = app_shell.shell(app)
    assert f"{app.static_url_path}/app.css" in files
    assert not [one for one in files if "/fonts/" in one or "/vendor/" in one or "print" in one]
    client = app.test_client()
    assert {client.get(one, buffered=True).status_code for one in files} == {200}


def test_the_worker_names_this_version_and_its_files_and_is_asked_for_anew(app: Flask) -> None:
    worker = app.test_client().get("/sw.js")
    assert worker.mimetype == "text/javascript"
    assert worker.headers["Cache-Control"] == "no-cache"
    assert app.config["VERSION"] in worker.text
    assert all(one in worker.text for one in app_shell.shell(app))


def test_the_kept_pages_are_of_nobody_also_for_somebody_signed_in(
    app: Flask, counter: Counter
) -> None:
    for path in ("/offline", "/unsent"):
        page = counter.get(path).text
        assert "Cora" not in page
        assert page == app.test_client().get(path).text


def test_a_token_comes_with_whose_it_is_and_is_never_stored(
    counter: Counter, stranger: Counter
) -> None:
    answer = counter.get("/api/csrf")
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.json is not None
    assert (answer.json["by"], bool(answer.json["token"])) == ("1", True)
    other = stranger.get("/api/csrf").json
    assert other is not None
    assert other["by"] == ""


def test_a_file_of_an_older_version_leads_to_this_ones(app: Flask) -> None:
    client = app.test_client()
    for asked in ("/static/0123456789ab/app.css", "/static/app.css"):
        moved = client.get(asked)
        assert moved.status_code == 302
        assert moved.headers["Location"] == f"{app.static_url_path}/app.css"
