"""Any JSON value, and any value at any place of a job, is answered or refused and nothing else."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest
from fit.assessment.changed_job import put
from hypothesis import given, settings
from hypothesis import strategies as st
from support.assess_jobs import answer
from support.wrong_fields import HUGE

from fitcounter.errors import FitCounterError
from fitcounter.fit.assessment.assess import read_job

READINGS = st.sampled_from([HUGE, "16 1/4", "41.3 cm", "0"])
PARTS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=8),
    st.just({}),
    st.just([]),
    READINGS,
)


def containers(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)


ANY_JSON = st.recursive(PARTS, containers, max_leaves=12)


def places(value: object, way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every place in a JSON value."""
    yield way
    entries = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    for key, inner in entries:
        yield from places(inner, (*way, key))


EVERYWHERE = [way for way in places(put("max_rounds", 4)()) if way]


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.lists(st.tuples(st.sampled_from(EVERYWHERE), ANY_JSON), min_size=1, max_size=3))
def test_any_value_at_any_place_is_answered_or_refused(
    changes: list[tuple[tuple[Any, ...], object]],
) -> None:
    """Nothing but a FitCounterError comes out, and every answer is JSON without NaN."""
    data: Any = put("max_rounds", 4)()
    for way, value in changes:
        place = data
        try:
            for key in way[:-1]:
                place = place[key]
            place[way[-1]] = copy.deepcopy(value)
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took this place away
    try:
        json.dumps(answer(data), allow_nan=False)
    except FitCounterError as refused:
        said = refused.sentence
    else:
        said = "."
    assert said.endswith(".")


@settings(derandomize=True, deadline=None, max_examples=200)
@given(ANY_JSON)
def test_any_json_value_is_answered_or_refused(data: object) -> None:
    """At the front door too."""
    with pytest.raises(FitCounterError):
        read_job(data)
