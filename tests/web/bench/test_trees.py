"""The trees as pages: which one serves, a new one, measured, in repair."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, new_id, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store import trees
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


def test_which_tree_says_for_each_what_it_would_do_or_why_not(bench: Counter, boots: Pair) -> None:
    """The left tree is offered, the right one has its one sentence."""
    page = bench.get(f"/bench/choice/{boots.left}").text

    assert "Put on tree 4" in page
    assert "Tree 5: Made for right boots." in page


def test_a_tree_is_added_measured_and_put_in_repair(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """From label, side and size; a girth of the bare tree; in repair and back; a tag to scan."""
    bench.get("/bench/trees")
    answer = bench.post("/bench/trees", submission_id=new_id(), label="K2", side="left", size="M")
    assert answer.status_code == 303
    found = trees.by_label(store, "K2")
    assert found is not None
    assert answer.location.endswith(f"/bench/trees/{found.id}")

    bench.get(answer.location)
    for girth, setting in (("13", "0"), ("15 1/2", "12")):
        path = f"/bench/trees/{found.id}/measure"
        assert (
            bench.post(
                path, submission_id=new_id(), setting=setting, height="10 1/2", girth=girth
            ).status_code
            == 303
        )
    assert len(trees.calibration(store, found.id)) == 2

    for state in ("repair", "sound", "retired"):
        assert (
            bench.post(
                f"/bench/trees/{found.id}/state", submission_id=new_id(), state=state
            ).status_code
            == 303
        )
        assert trees.get(store, found.id).state == state
    assert bench.post(f"/bench/trees/{found.id}/tag", submission_id=new_id()).status_code == 303
    code = store.value("SELECT code FROM tags WHERE tree_id = ?", found.id)
    assert f"/bench/trees/{found.id}" in bench.get(f"/T/{code}").location
