"""A list of any shape is answered line by line, or with one sentence for the whole."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.common.translation import say, speaking
from fitcounter.desk.intake.paper_list_csv import COLUMNS, EXAMPLE, CsvLine, headings, read_list
from fitcounter.desk.intake.paper_list_words import KINDS, What, read_where, terms
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput

TODAY = date(2026, 3, 17)
BOOTS = What(("left", "right"), "boots", ())
PLACES = "shelf C2, tree 4 and 9, bench, prepared, resting, finishing, finished."  # on the page
HEAD = "number,name,phone,what,where,promised\n"
CELLS = (
    *("", " ", "12", "#12", "99999", "Ann", "555 010 0199", "boots", "belt", "tree 4", "A1"),
    *("2026-12-04", "12/4/26", "0/0/0", "9" * 30 + "/1/1", "1/2", "٣", "-", '"', '""', "'=1+1"),
)


def lines_of(text: str) -> list[CsvLine]:
    """None where the whole list is refused in words; any other error stops the test."""
    try:
        return read_list(text, Shop(), TODAY)
    except BadInput:
        return []


@pytest.mark.parametrize(
    "line", ["12,Ann,555 010 0199", "12", ",", "12,Ann", "12,,,boots", '"12"', ",,,,,"]
)
def test_a_line_that_ends_early_is_answered_like_any_other(line: str) -> None:
    lines = read_list(f"{HEAD}{line}\n41,Bea,,boots,,\n", Shop(), TODAY)
    assert lines[-1].job is not None
    for short in lines[:-1]:
        assert short.job is None
        assert short.sentence


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.sampled_from([*COLUMNS, "", "Name", "colour"]), min_size=1, max_size=9),
    st.lists(st.lists(st.sampled_from(CELLS) | st.text(max_size=12), max_size=10), max_size=6),
    st.sampled_from(",;\t"),
)
def test_a_list_of_any_shape_is_read_or_refused_in_words(
    columns: list[str], rows: list[list[str]], delimiter: str
) -> None:
    text = "\n".join(delimiter.join(row) for row in (columns, *rows))
    assert all((line.job is None) == bool(line.sentence) for line in lines_of(text))


@settings(max_examples=200, deadline=None)
@given(st.lists(st.sampled_from(CELLS) | st.text(max_size=12), max_size=8))
def test_a_line_of_any_shape_under_good_columns_never_stops_the_list(cells: list[str]) -> None:
    text = HEAD + ",".join(cell for cell in cells) + "\n"
    assert all((line.job is None) == bool(line.sentence) for line in lines_of(text))


@pytest.mark.parametrize("code", sorted(languages()))
def test_the_example_and_every_word_of_the_page_is_understood_in_each_language(code: str) -> None:
    with speaking(code):
        example = read_list(say(EXAMPLE), Shop(), TODAY)
        titles = ",".join(headings().values())
        titled = read_list(f"{titles}\n1,Ann,,{terms(KINDS['boot'])[0]},,,,\n", Shop(), TODAY)
        places = [
            read_where(one.strip(), BOOTS, ()).state for one in say(PLACES).rstrip(".").split(",")
        ]

    first, second = (line.job for line in example)
    assert first is not None
    assert second is not None
    assert (first.what.sides, first.where.trees) == (("left", "right"), ("4", "9"))
    assert [piece.kind for piece in first.what.pieces] == ["bag"]
    assert (second.what.sides, second.where.shelf) == (("left",), "C2")
    assert titled[0].job is not None
    assert places == [
        *("shelved", "on-tree", "queued", "prepared", "resting", "finishing", "finished")
    ]


def test_a_spanish_counter_still_reads_an_english_list() -> None:
    with speaking("es"):
        [line] = read_list("name,what,where\nAnn,left boot: stretch,tree 4\n", Shop(), TODAY)

    assert line.job is not None
    assert (line.job.what.sides, line.job.where.trees) == (("left",), ("4",))
