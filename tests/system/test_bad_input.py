"""What cannot be, however it comes: one code, one sentence, everything typed still there, nothing
stored.

The table is tests/reference/bad_input.json: 72 cases, some of them typed in several ways.
"""

from __future__ import annotations

import json
from html import unescape
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest
from support.paths import REFERENCE
from support.till import Till
from support.whole_shop import WholeShop, open_copy
from system import bad_clocks, bad_forms, bad_moments, bad_requests, bad_things
from system.bad_ways import WAYS

TABLE = json.loads((REFERENCE / "bad_input.json").read_text(encoding="utf-8"))
CASES = [
    (case, list(rows))
    for case, rows in groupby(sorted(TABLE["rows"], key=lambda row: row[0]), key=lambda row: row[0])
]
REFUSED = (400, 401, 409, 413, 422, 503, 507)
# Each puts its ways into the one list.
assert all((bad_clocks, bad_forms, bad_moments, bad_requests, bad_things))


def said(typed: Any) -> Any:
    """What is typed: as it stands, a text repeated, or signs by their numbers."""
    if not isinstance(typed, dict):
        return typed
    if "codes" in typed:
        return "".join(map(chr, typed["codes"])) + chr(typed.get("then", 32)) * typed.get(
            "times", 0
        )
    if "of" in typed:
        return typed["of"] * typed["times"]
    return {name: said(value) for name, value in typed.items()}


def test_the_table_has_all_of_them() -> None:
    """Seventy-two cases, and no way that nobody goes."""
    assert [case for case, _ in CASES] == list(range(1, 73))
    assert {row[1] for row in TABLE["rows"]} == set(WAYS)


@pytest.mark.filterwarnings(
    "ignore:Unclosed file:ResourceWarning"
)  # the parser of a body that is cut leaves its own to the collector
@pytest.mark.parametrize(
    ("case", "rows"), CASES, ids=[f"{case:02} {rows[0][1]}" for case, rows in CASES]
)
def test_bad_input_is_answered_as_the_table_says(
    played: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, case: int, rows: list[list[Any]]
) -> None:
    """The code, the words, and on a refusal every field that was typed."""
    for number, (_, where, typed, code, words) in enumerate(rows):
        shop: WholeShop = open_copy(played, tmp_path / str(number))
        try:
            answer = WAYS[where](Till(shop), said(typed), monkeypatch)
        finally:
            shop.store.close()
        text = unescape(answer.text).replace(
            "\u00a0", " "
        )  # a figure and its unit stay on one line
        assert (answer.code, words in text) == (code, True), (typed, answer.code, text[:3000])
        assert "Traceback" not in text
        if code in REFUSED:
            assert answer.missing() == [], typed
