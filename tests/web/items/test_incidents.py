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
