"""A JSON text read a piece at a time gives what it would give whole, or is none."""

from __future__ import annotations

import io
import json

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitcounter.desk.data import json_pieces
from fitcounter.desk.data.json_pieces import NoJson, Pieces

# short, for pieces of three characters: larger ones took seconds to invent, and at times too long
WORD = st.text(max_size=8)
PLAIN = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | WORD
JSON = st.recursive(
    PLAIN,
    lambda one: st.lists(one, max_size=4) | st.dictionaries(WORD, one, max_size=4),
    max_leaves=12,
)
LONG = {"a name of more than eight": [{"words": ["of a whole line\n\u00e9"] * 9}, [[[[]]]], {}]}
steady = settings(derandomize=True, deadline=None)


def of(text: str | bytes) -> Pieces:
    raw = text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")
    return Pieces(io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))


def whole(text: str | bytes) -> object:
    pieces = of(text)
    found = pieces.value()
    pieces.end()
    return found


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces of three characters meet every place where a value can be cut."""
    monkeypatch.setattr(json_pieces, "AT_ONCE", 3)


@steady
@given(JSON, st.sampled_from([None, 1]))
@example(LONG, 1)
@example(10.0, None)
@example([1.5e-7, -2], 1)
def test_a_value_is_what_it_would_be_whole(value: object, indent: int | None) -> None:
    assert whole(json.dumps(value, indent=indent)) == value


# few: pieces of three characters are decoded from the beginning again and again
@settings(steady, max_examples=40)
@given(st.dictionaries(st.text(max_size=4), st.lists(JSON, max_size=3), max_size=3))
@example(LONG)
def test_an_object_of_arrays_is_walked_in_its_order(told: dict[str, list[object]]) -> None:
    pieces = of(json.dumps(told, indent=1))
    assert {name: list(pieces.values()) for name in pieces.names()} == told
    pieces.end()


def walked(text: str | bytes) -> None:
    """To its end, as somebody reads it who looks for an object or an array at its beginning."""
    pieces = of(text)
    if text[:1] == "[":
        list(pieces.values())
    elif text[:1] == "{":
        for _ in pieces.names():
            pieces.value()
    else:
        pieces.value()
    pieces.end()


CUT = ["", " ", "{", "[1", '"a', "tru"]
WRONG = ["1 2", "[1 2]", "{1: 2}", '{"a" 1}', "[1,]", "]", b"\xff", b'"\xff"']


@pytest.mark.parametrize("text", [*CUT, *WRONG])
def test_what_is_none_is_told_from_what_is(text: str | bytes) -> None:
    with pytest.raises(NoJson):
        walked(text)


@pytest.mark.parametrize("text", ["9" * 5000, "[" * 100_000])
def test_a_figure_or_a_nest_without_end_is_none(text: str) -> None:
    with pytest.raises(NoJson):
        whole(text)


def test_a_value_larger_than_any_of_ours_is_not_read_to_its_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(json_pieces, "MOST", 100)
    read: list[int] = []
    raw = io.BytesIO(b'"' + b"a" * 1_000_000)
    with pytest.raises(NoJson):
        Pieces(io.TextIOWrapper(raw, encoding="utf-8"), read.append).value()
    assert read[-1] < 50_000
