"""Style sheets and scripts go out without what only we read, and every sheet in one file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from flask import Flask
from support.paths import CHECKOUT

from fitcounter.web.responses import static_text

STATIC = CHECKOUT / "static"
SCRIPTS = sorted((STATIC / "js").glob("*.js"))


def test_a_phone_fetches_every_sheet_of_the_style_in_one_file_and_in_its_order(app: Flask) -> None:
    named = re.findall(r'@import "([^"]+)"', (STATIC / "app.css").read_text(encoding="utf-8"))
    assert sorted(named) == sorted(f"css/{path.name}" for path in (STATIC / "css").iterdir())

    text = app.test_client().get(f"{app.static_url_path}/app.css", buffered=True).text

    assert "@import" not in text
    rest = iter(re.findall(r"[^\s{}]+ {", text))
    for name in named:
        bare = static_text.without_our_notes((STATIC / name).read_text(encoding="utf-8"), ".css")
        assert all(selector in rest for selector in re.findall(r"[^\s{}]+ {", bare)), name


def test_comments_and_indentation_stay_here_and_lines_keep_their_number() -> None:
    sheet = "/* two\n   lines */\na {   /* why */\n  b: c;\n}\n"
    assert static_text.without_our_notes(sheet, ".css") == "\n\na {   \nb: c;\n}\n"
    script = (
        "// why\n/**\n * what\n */\nlet a = 'http://b';  // end\n  /* c */ d();\nlet e = '/*';\n"
        "/* f */\n  g();\n"
    )
    assert static_text.without_our_notes(script, ".js") == (
        "\n\n\n\nlet a = 'http://b';  // end\n/* c */ d();\nlet e = '/*';\n\ng();\n"
    )


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_no_text_of_a_script_goes_over_a_line_where_its_blanks_would_be_lost(path: Path) -> None:
    assert all(line.count("`") % 2 == 0 for line in path.read_text(encoding="utf-8").splitlines())


def test_it_is_kept_for_a_year_by_its_kind_and_not_sent_again_where_it_is_the_same(
    app: Flask,
) -> None:
    client = app.test_client()
    for name, kind in (("app.css", "text/css"), ("js/words.js", "text/javascript")):
        address = f"{app.static_url_path}/{name}"
        answer = client.get(address, buffered=True)
        assert (answer.mimetype, answer.cache_control.max_age) == (kind, 31_536_000)
        again = client.get(address, headers={"If-None-Match": answer.headers["ETag"]})
        assert again.status_code == 304


def test_what_is_not_ours_goes_out_as_it_is(app: Flask) -> None:
    client = app.test_client()
    for name in ("vendor/qr/decode.js", "icons/favicon.svg"):
        answer = client.get(f"{app.static_url_path}/{name}", buffered=True)
        assert answer.data == (STATIC / name).read_bytes()
    for name in ("css/../../templates/base.html", "css/none.css", "css"):
        assert client.get(f"{app.static_url_path}/{name}").status_code == 404
