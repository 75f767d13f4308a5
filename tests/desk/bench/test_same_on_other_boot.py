"""The same on the other boot of a pair: offered with what was typed, one tap."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, hidden, new_id, put_on, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store import rounds
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


def test_the_same_on_the_other_boot_is_one_tap(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Off the tree, one boot after the other: the page offers the other boot with the same time,
    and one form saves it.
    """
    put_on(bench, boots.left, "4")
    put_on(bench, boots.right, "5")
    clock.on(days=7, hours=5)
    bench.sign_in()
    bench.get("/bench")
    bench.post(
        f"/items/{boots.left}/take-off",
        submission_id=new_id(),
        happened="time",
        happened_time="2026-03-24T11:30",
    )
    page = bench.get(f"/items/{boots.left}?did=take-off").text
    assert "Same on the right boot: Take off the tree" in page

    typed = hidden(page[page.index("Same on the right") - 900 : page.index("Same on the right")])
    assert bench.post(f"/items/{boots.right}/take-off", **typed).status_code == 303
    assert {rounds.of_item(store, one)[0].off_at for one in (boots.left, boots.right)} == {
        "2026-03-24T15:30:00Z"
    }
    assert "Same on the" not in bench.get(f"/items/{boots.right}?did=take-off").text


def test_the_other_boot_is_not_taken_off_early_with_one_tap(bench: Counter, boots: Pair) -> None:
    """Why it comes off is asked for it too."""
    put_on(bench, boots.left, "4")
    put_on(bench, boots.right, "5")
    bench.post(f"/items/{boots.left}/take-off", submission_id=new_id(), early="asked")
    page = bench.get(f"/items/{boots.left}?did=take-off").text
    assert f'href="/items/{boots.right}?do=take-off"' in page
    assert f'action="/items/{boots.right}/take-off"' not in page
