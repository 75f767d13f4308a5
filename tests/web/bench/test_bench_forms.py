"""Every form of the bench: bad input comes back as typed, it is taken from staff only, and sent
twice it is written once.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from support.bench_cast import Pair, new_id, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


@pytest.mark.parametrize(
    ("path", "typed", "sentence"),
    [
        ("/bench/trees", {"label": "", "side": "left"}, "Type the label on the tree"),
        ("/bench/trees", {"label": "4", "side": "left"}, "Another tree has that label."),
        (
            "/bench/trees",
            {"label": "K2", "side": ""},
            "Pick left boots, right boots or either side.",
        ),
        (
            "/bench/trees",
            {"label": "K2", "side": "left", "closed": "15", "open": "14 1/2"},
            "wide open must be more than the girth closed",
        ),
        ("/bench/trees/1", {"label": "5", "side": "left"}, "Another tree has that label."),
        (
            "/bench/trees/1/measure",
            {"setting": "few", "height": "12", "girth": "14"},
            "Type the setting as a number",
        ),
        (
            "/bench/trees/1/measure",
            {"setting": "0", "height": "12", "girth": "145/8"},
            "The fraction is less than one",
        ),
        (
            "/bench/away",
            {"from_day": "2026-04-10", "to_day": "2026-04-01"},
            "The last day is before the first.",
        ),
        ("/bench/away", {"from_day": "soon", "to_day": ""}, "Type the date as year-month-day"),
        (
            "/bench/slots",
            {"words": "", "sides": "pair", "first": "2026-04-10", "goes": "2"},
            "Type whose boots they are.",
        ),
        (
            "/bench/slots",
            {"words": "Hale", "sides": "pair", "first": "2026-01-10", "goes": "2"},
            "That date has passed",
        ),
        ("/bench/hold/1", {"hold_h": "5"}, "from 12 to 720"),
        ("/bench/off", {"scan": "7K3M9QXWA"}, "One character of this code"),
    ],
)
def test_bad_input_at_the_bench_comes_back_as_typed(
    bench: Counter, store: Store, boots: Pair, path: str, typed: dict[str, str], sentence: str
) -> None:
    """422, one sentence, everything typed still there, nothing stored."""
    before = store.value("SELECT count(*) FROM audit")
    bench.get("/bench/plan")
    answer = bench.post(path, submission_id=new_id(), **typed)

    assert answer.status_code == 422
    assert sentence in answer.text
    for value in typed.values():
        assert value in answer.text
    assert store.value("SELECT count(*) FROM audit") == before


@pytest.mark.parametrize(
    "path",
    [
        "/bench/trees/1/measure",
        "/bench/trees/1/state",
        "/bench/trees/1/tag",
        "/bench/trees/1/readings/1/strike",
        "/bench/away",
        "/bench/away/1/strike",
        "/bench/slots",
        "/bench/slots/1/strike",
        "/bench/hold/1",
    ],
)
def test_what_writes_takes_only_a_form_and_only_from_staff(
    bench: Counter, somebody: Callable[[str], Counter], boots: Pair, path: str
) -> None:
    """Every address that writes refuses GET, and a stranger's form."""
    assert bench.get(path).status_code == 405
    stranger = somebody("")
    stranger.get("/sign-in")
    assert stranger.post(path, submission_id=new_id()).status_code == 401


@pytest.mark.parametrize(
    ("path", "typed", "table"),
    [
        ("/bench/trees", {"label": "K2", "side": "left"}, "trees WHERE label = 'K2'"),
        (
            "/bench/trees/1/measure",
            {"setting": "0", "height": "12", "girth": "14"},
            "tree_calibration",
        ),
        ("/bench/away", {"from_day": "2026-08-10", "to_day": "2026-08-12"}, "closures"),
        (
            "/bench/slots",
            {"words": "Hale", "sides": "left", "first": "2026-06-01", "goes": "1"},
            "bookings WHERE kind = 'slot'",
        ),
        ("/bench/trees/1/tag", {}, "tags WHERE tree_id = 1"),
    ],
)
def test_what_is_sent_twice_is_written_once(
    bench: Counter, store: Store, boots: Pair, path: str, typed: dict[str, str], table: str
) -> None:
    """The same submission again gives the first answer and changes nothing."""
    bench.get("/bench/plan")
    one_id = new_id()
    codes = {bench.post(path, submission_id=one_id, **typed).status_code for _ in range(2)}

    assert codes == {303}
    assert store.value(f"SELECT count(*) FROM {table}") == 1
