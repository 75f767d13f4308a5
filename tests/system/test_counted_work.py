"""What a job at the counter costs by count: a typed length is parsed once, and a request assesses
a pair once at most.
"""

from __future__ import annotations

from collections import Counter as Tally

import pytest
from support.bench_cast import pair, tree
from support.cast import Clock, Counter
from support.counted_calls import counted_calls
from support.counter_forms import agreement, gap_sheet, taken_in

from fitcounter.desk import shop
from fitcounter.desk.assessment.readings import stored_length
from fitcounter.desk.plan import plan
from fitcounter.fit import tape
from fitcounter.fit.assessment.assess import assess, can_be_answered
from fitcounter.fit.assessment.job_json import read_job
from fitcounter.fit.tape import parse_length
from fitcounter.store import outcomes
from fitcounter.store.database import Act, Store


@pytest.fixture
def fit_id(counter: Counter) -> int:
    return taken_in(counter)


def save(counter: Counter, fit_id: int) -> tuple[Tally[str], int]:
    """What saving a sheet of gaps costs, and how many lengths were typed on it."""
    counter.get(f"/fits/{fit_id}/measure")
    form = gap_sheet(seat="1/2", wall="3/32")
    typed = [name for name in form if name.startswith(("height_", "gap_", "boot_", "seat", "wall"))]
    for kept in (tape._parse, stored_length):  # by requests of other tests
        kept.cache_clear()
    with counted_calls(tape._parse.__wrapped__, can_be_answered, assess, read_job) as calls:
        answer = counter.post(f"/fits/{fit_id}/measure", **form)
    assert answer.status_code == 303
    return calls, len(typed)


def test_a_save_parses_every_typed_length_once_and_assesses_nothing(
    counter: Counter, fit_id: int
) -> None:
    """It only asks whether there is an answer: the page after it gives the answer. A text that is
    typed twice is parsed for both.
    """
    calls, typed = save(counter, fit_id)
    assert typed == 17
    assert 0 < calls.pop("_parse") <= typed
    assert calls == {"can_be_answered": 1}


def test_every_page_after_a_save_assesses_once(counter: Counter, fit_id: int) -> None:
    """The stop that asks again, the answer, what is agreed, and the agreement itself."""
    save(counter, fit_id)
    shown = {}
    for page in (f"/fits/{fit_id}/measured", f"/fits/{fit_id}/verdict", "/tickets/1/agree"):
        with counted_calls(assess, read_job) as calls:
            assert counter.get(page).status_code in (200, 303)
        shown[page.rpartition("/")[2]] = calls
    form = agreement(counter, 1)
    with counted_calls(assess, read_job) as shown["agreed"]:
        assert counter.post("/tickets/1/agree", **form).status_code == 303
    assert shown == {page: {"assess": 1} for page in ("measured", "verdict", "agree", "agreed")}


def test_an_agreed_boot_is_shown_without_reckoning_it_again(counter: Counter, fit_id: int) -> None:
    save(counter, fit_id)
    counter.post("/tickets/1/agree", **agreement(counter, 1))
    with counted_calls(parse_length, assess, read_job) as calls:
        assert counter.get("/items/1").status_code == 200
    assert calls == {}


def test_a_bench_plan_looks_at_the_newest_rounds_as_often_for_few_boots_as_for_many(
    store: Store, clock: Clock
) -> None:
    """Every look adds up the newest 2,000 rounds: once a boot, it was a fifth of an old shop's
    plan.
    """
    tree(store, "4")
    looks = []
    for more in (1, 3):
        for number in range(more):
            pair(store, Act(clock.now), number=100 * more + number)
        with counted_calls(outcomes.rounds_stamp) as calls:
            plan.make(store, shop.read(store), clock.now)
        looks.append(calls["rounds_stamp"])
    assert looks[0] == looks[1] <= 3
