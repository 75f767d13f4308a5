"""The Bench place: its short lists of what is to be done, and many boots that come off in a row."""

from __future__ import annotations

import re

import pytest
from support.bench_cast import TAG, Pair, bag, new_id, put_on, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store import items
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


def test_many_boots_come_off_one_after_another(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Each scan takes one off and the list grows; a boot that is not on a tree, and a tree, are
    said and nothing is saved.
    """
    put_on(bench, boots.left, "4")
    put_on(bench, boots.right, "5")
    clock.on(days=7)
    bench.sign_in()
    bench.get("/bench/off")
    first = bench.post("/bench/off", submission_id=new_id(), scan=TAG)
    assert first.location.endswith(f"taken={boots.left}")
    second = bench.post("/bench/off", submission_id=new_id(), scan="41 R", taken=str(boots.left))
    assert second.status_code == 303
    assert {items.get(store, one).state for one in (boots.left, boots.right)} == {"resting"}

    page = bench.get(second.location).text
    assert page.count('class="row-n">41<') == 2
    for wrong, sentence in (
        ("tree 4", "That tag is on a tree"),
        ("41", "Left or right?"),
        ("41 L", "Left 41 is not on a tree (resting)"),
        ("", "Scan a tag"),
    ):
        answer = bench.post("/bench/off", submission_id=new_id(), scan=wrong)
        assert answer.status_code == 422
        assert sentence in answer.text
        assert ("Open Left 41" in answer.text) is (wrong == "41 L"), (
            "what the scan cannot answer is a tap away"
        )
        assert "The file says" not in answer.text


def test_the_bench_shows_what_is_to_be_done_in_short_lists(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """On its tree three hours: to be turned up.

    Its hold over: to come off. Rested: to be measured. The bag waits for the bench.
    """
    bag(store, boots.ticket_id)
    put_on(bench, boots.left, "4")
    page = bench.get("/bench").text
    assert listed(page, "On the trees") == ["Left"]
    assert "Later" not in page, "what is on a tree stands there once"
    clock.on(hours=3)
    assert listed(bench.get("/bench").text, "Turn up") == ["Left"]
    clock.on(days=7)
    bench.get("/bench")
    page = bench.get("/bench").text
    assert re.search(r"until \d+:00 AM", page)
    assert listed(page, "Take off the tree") == ["Left"]
    assert listed(page, "Waiting for the bench") == ["Right", "Bag"]
    bench.post(f"/items/{boots.left}/take-off", submission_id=new_id())
    clock.on(hours=16)
    assert "Measure from" in bench.get("/bench").text
    clock.on(hours=8)
    page = bench.get("/bench").text
    assert listed(page, "To measure") == ["Left"]
    assert "Rested since" in page


def listed(page: str, title: str) -> list[str]:
    """The sides on one list of the page."""
    # the list is there
    part = page[re.search(rf"<h2[^>]*>{title} ", page).start() :]  # type: ignore[union-attr]
    return re.findall(r'class="row-s">([^<]+)<', part[: part.index("</section>")])
