"""After a measurement at the bench the answer stands on the saved page: what the round kept, what
is short, and what each way on means.
"""

from __future__ import annotations

import re

import pytest
from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import state, step

from fitcounter.store.database import Store


def read(bench: Counter, boots: Pair, clock: Clock, rested: str, on_tree: str = "14 7/8") -> None:
    """The left boot, once around: on the tree, off a week later, measured the day after."""
    typed = {"before": "14 3/8", "on_tree": on_tree, "override_why": "master-looked"}
    assert step(bench, boots.left, "put-on", tree="4", **typed) == 303
    clock.on(days=7)
    assert step(bench, boots.left, "take-off") == 303
    clock.on(hours=25)
    assert step(bench, boots.left, "measure-again", rested=rested) == 303


def words(page: str) -> str:
    """The page's words, each fraction in one."""
    plain = re.sub(r"<span>|</span>|\u2009", "", page)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", plain)).replace("\u00a0", " ")


SAVED_ON = ("/items/{left}?did=measure-again", "/bench/stand?did={left}&step=measure-again")


@pytest.mark.parametrize("address", SAVED_ON)
def test_the_saved_page_says_what_was_kept_what_is_short_and_what_each_way_means(
    bench: Counter, boots: Pair, clock: Clock, address: str
) -> None:
    read(bench, boots, clock, "14 5/8")
    page = bench.get(address.format(left=boots.left)).text
    said = words(page)

    assert "Left 41 reads 14⅝. Kept ¼ in of ½ in (estimate: about a third)." in said
    assert len(re.findall("short at 10½", said)) == 1, "said once"
    assert re.search(r"Do another round Tree 4 from today until \w{3}, \w{3} \d+\. Could be", said)
    assert re.search(r"\d in 10: one more is enough\.|Most likely (two|three) rounds", said)
    assert re.search(r"Finish stretching Could be ready \w{3}, \w{3} \d+\.", said)
    assert "Undo “Rested at" in said
    assert page.count('class="way next"') == 1


@pytest.mark.parametrize("way", ["another-round", "done"])
def test_either_way_is_saved_by_one_tap_on_the_saved_page(
    bench: Counter, store: Store, boots: Pair, clock: Clock, way: str
) -> None:
    read(bench, boots, clock, "14 5/8")
    page = bench.get(f"/bench/stand?did={boots.left}&step=measure-again").text
    form = re.search(rf'<form[^>]*action="/items/{boots.left}/{way}".*?</form>', page, re.S)
    assert form is not None
    sent = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form[0]))
    answer = bench.post(f"/items/{boots.left}/{way}", **sent)

    assert answer.headers["Location"].startswith("/bench/stand?did=")
    assert state(store, boots.left) == {"another-round": "queued", "done": "finishing"}[way]


def test_where_a_second_reading_could_change_it_that_comes_first(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    read(bench, boots, clock, "15 5/16", on_tree="15 3/4")
    page = bench.get(f"/items/{boots.left}?did=measure-again").text

    (big,) = re.findall(r'class="press next" href="([^"]+)"', page)
    assert big == f"/items/{boots.left}?do=measure-again"
    assert "take the tape off first" in page

    assert step(bench, boots.left, "measure-again", rested="15 5/16", again="too") == 303
    page = bench.get(f"/items/{boots.left}?did=measure-again").text
    assert "Measure a second time" not in page
    assert page.count('class="way next"') == 1


def test_a_boot_that_is_wide_enough_is_offered_done_alone(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    read(bench, boots, clock, "15 5/8", on_tree="15 7/8")
    said = words(bench.get(f"/items/{boots.left}?did=measure-again").text)

    assert "Wide enough." in said
    assert "Finish stretching Could be ready" in said
    assert f"/items/{boots.left}/another-round" not in said


def test_where_a_rule_says_to_stop_the_ways_are_to_ask_and_done(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    with store.write_tx():
        store.db.execute("UPDATE fits SET max_rounds = 1")
    read(bench, boots, clock, "14 5/8")
    page = bench.get(f"/bench/stand?did={boots.left}&step=measure-again").text

    assert re.findall(r'class="press next" href="([^"]+)"', page) == [
        f"/items/{boots.left}?do=wait"
    ]
    assert f'action="/items/{boots.left}/another-round"' not in page
    assert f'action="/items/{boots.left}/done"' in page


def test_the_other_boot_of_the_pair_is_offered_below_the_answer(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    """It waits to be measured too; the answer to the first is not put behind it."""
    assert step(bench, boots.right, "put-on", tree="5", before="14 3/8", on_tree="14 7/8") == 303
    clock.on(days=7)
    assert step(bench, boots.right, "take-off") == 303
    read(bench, boots, clock, "14 5/8")
    page = bench.get(f"/items/{boots.left}?did=measure-again").text

    assert f"/items/{boots.right}?do=measure-again" in page
    assert page.count('class="way next"') == 1
    assert page.index("/another-round") < page.index(f"/items/{boots.right}?do=measure-again")
