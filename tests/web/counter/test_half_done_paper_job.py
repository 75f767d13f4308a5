"""Already here: a job begun on paper, put in as it stands."""

from __future__ import annotations

import pytest
from support.cast import Counter
from support.counter_forms import errors, fresh, value

from fitcounter.store import items, tags
from fitcounter.store.database import Store


def already(**changes: object) -> dict[str, object]:
    return {
        "submission_id": fresh(),
        "phone": "(412) 555-0142",
        "name": "Tobias Renwick",
        "boots": "pair",
        "material": "oiled",
        "closure": "zip",
        "lining": "leather",
        "state_left": "resting",
        "since_left": "2026-03-16",
        "state_right": "shelved",
        "since_right": "2026-03-15",
        "shelf_right": "C2",
        "promised": "2026-04-10",
        "total": "90",
        "paid": "45",
        **changes,
    }


def test_a_paper_job_is_put_in_once_and_tagged(counter: Counter, store: Store):
    counter.get("/already")
    form = already()
    assert [counter.post("/already", **form).status_code for _ in range(2)] == [303, 303]
    left, right = items.of_ticket(store, 1)
    assert (left.state, right.state, right.shelf) == ("resting", "shelved", "C2")
    assert tags.of_item(store, left.id) is not None
    page = counter.get("/tickets/1").text
    for words in ("Tobias Renwick", "$45.00", "resting", "shelf C2"):
        assert words in page


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"name": ""}, "name on the slip"),
        ({"phone": "+"}, "phone number, like"),
        ({"since_left": ""}, "since when"),
        ({"since_left": "2026-03-18"}, "today at the latest"),
        ({"state_left": "lost"}, "Not a valid choice"),
        ({"state_left": "on-tree"}, "tree’s label"),
        ({"state_left": "on-tree", "tree_left": "9"}, "No tree"),
        ({"total": "much"}, "Type an amount"),
        ({"promised": "2026-02-30"}, "year-month-day"),
    ],
)
def test_a_paper_job_that_cannot_be_taken_stays_on_the_page(
    counter: Counter, store: Store, changes: dict[str, object], says: str
):
    counter.get("/already")
    answer = counter.post("/already", **already(**changes))
    assert answer.status_code == 422
    assert says in " ".join(errors(answer)), errors(answer)
    assert value(answer.text, "total") == already(**changes)["total"]
    assert value(answer.text, "since_right") == "2026-03-15"
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_a_stranger_and_the_bench_put_nothing_in(stranger: Counter, bench: Counter, store: Store):
    stranger.get("/sign-in")
    assert stranger.post("/already", **already()).status_code == 401
    assert bench.post("/already", **already()).status_code == 403
    assert store.value("SELECT count(*) FROM tickets") == 0
