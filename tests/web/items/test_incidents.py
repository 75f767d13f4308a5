"""After a problem's record is saved, the page says whether the work can go on."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Counter
from support.item_steps import somebody_id, step

from fitcounter.store.database import Store


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"told": "y"}, "Saved. The problem is not settled yet."),
        ({"told": "y", "settled": "y"}, "Saved. The problem is settled: the work can go on."),
    ],
)
def test_a_saved_record_says_whether_the_problem_is_settled(
    bench: Counter, store: Store, boots: Pair, typed: dict[str, str], sentence: str
) -> None:
    step(bench, boots.left, "stop", what="grain whitened")
    path = f"/incidents/{store.value('SELECT id FROM incidents')}"
    bench.get(path)
    answer = bench.post(path, submission_id=somebody_id(), **typed)
    assert answer.status_code == 303
    assert sentence in bench.get(answer.location).text


def test_what_two_people_write_of_a_problem_is_put_together_field_by_field(
    bench: Counter, store: Store, boots: Pair
) -> None:
    step(bench, boots.left, "stop", what="grain whitened")
    path = f"/incidents/{store.value('SELECT id FROM incidents')}"
    bench.get(path)
    seen = {"version": "1", "was_told": "", "was_agreed": "", "was_settled": ""}
    first = {**seen, "told": "y", "agreed": "half the price"}
    assert bench.post(path, submission_id=somebody_id(), **first).status_code == 303
    second = {**seen, "agreed": "no more rounds"}
    assert bench.post(path, submission_id=somebody_id(), **second).status_code == 303
    (row,) = store.rows("SELECT told_at, agreed, settled_at FROM incidents")
    assert row["told_at"] is not None, "what the first one ticked stays"
    assert row["agreed"] == "half the price\nno more rounds"
    assert row["settled_at"] is None
