"""While a hold runs until a later day, taking off is a small choice that asks why, everywhere."""

from __future__ import annotations

import re

from support.bench_cast import Pair, new_id, put_on
from support.cast import Clock, Counter
from support.item_steps import state

from fitcounter.store.database import Store


def buttons(page: str, item_id: int) -> bool:
    """Whether a button of the page takes the boot off at once."""
    form = (
        rf'action="/items/{item_id}/take-off"(?:(?!</form>).)*?<button type="submit" class="next"'
    )
    return re.search(form, page, re.DOTALL) is not None


def pages(bench: Counter, boots: Pair) -> list[str]:
    return [bench.get(path).text for path in (f"/items/{boots.left}", "/bench/stand?scan=41L")]


def test_only_on_its_day_the_large_button_takes_a_boot_off(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    """Before, turning up is large where it may be, else nothing; early is a link either way."""
    put_on(bench, boots.left, "4")
    for page in pages(bench, boots):
        assert not buttons(page, boots.left)
        assert f"/items/{boots.left}/turn-up" not in page, "in its first hours"
        assert "Comes off Tuesday, March 24, 10:00 AM." in page
        assert ">Take off early</a>" in page
    clock.on(hours=3)
    for page in pages(bench, boots):
        assert not buttons(page, boots.left)
        assert f"/items/{boots.left}/turn-up" in page
        assert ">Take off early</a>" in page
    clock.on(days=6)
    bench.sign_in()
    for page in pages(bench, boots):
        assert not buttons(page, boots.left), "the day before"
        assert f"/items/{boots.left}/turn-up" not in page, "it has settled"
    clock.on(hours=18)
    bench.sign_in()
    for page in pages(bench, boots):
        assert buttons(page, boots.left), "in the morning of its day, three hours before"
        assert "Take off early" not in page


def test_why_a_boot_came_off_early_stands_in_its_history(
    bench: Counter, store: Store, boots: Pair
) -> None:
    put_on(bench, boots.left, "4")
    for path in (f"/items/{boots.left}?do=take-off", f"/bench/stand?boot={boots.left}&do=take-off"):
        page = bench.get(path).text
        assert (
            "The hold runs until Tuesday, March 24, 10:00 AM. Off sooner, less of it stays." in page
        )
        assert 'value="tree-needed"' in page
    path = f"/items/{boots.left}/take-off"
    answer = bench.post(path, submission_id=new_id(), early="bored")
    assert answer.status_code == 422
    assert "Pick why it comes off early." in answer.text
    assert state(store, boots.left) == "on-tree"
    assert bench.post(path, submission_id=new_id(), early="tree-needed").status_code == 303
    page = bench.get(f"/items/{boots.left}").text
    assert "Off the tree early" in page
    assert "the tree was needed" in page


def test_a_scan_of_many_does_not_take_off_what_comes_off_on_a_later_day(
    bench: Counter, store: Store, boots: Pair
) -> None:
    put_on(bench, boots.left, "4")
    bench.get("/bench/off")
    answer = bench.post("/bench/off", submission_id=new_id(), scan="41 L")
    assert answer.status_code == 422
    said = "Left 41 comes off Tuesday, March 24. To take it off early, open its page."
    assert said in answer.text
    assert f"/items/{boots.left}?do=take-off" in answer.text
    assert 'value="41 L"' in answer.text
    assert state(store, boots.left) == "on-tree"
