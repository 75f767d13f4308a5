"""One step with boot after boot: a pair is one row, and a saved step offers the next boot due."""

from __future__ import annotations

import re

import pytest
from support.bench_cast import Pair, new_id, pair, tree
from support.cast import Clock, Counter
from support.item_steps import state, step

from fitcounter.desk.plan import plan_keeping
from fitcounter.store.database import Act, Store


@pytest.fixture
def two_pairs(store: Store, clock: Clock) -> tuple[Pair, Pair]:
    """Two planned pairs, prepared, and a tree for each boot."""
    for label, side in (("4", "left"), ("5", "right"), ("6", "left"), ("7", "right")):
        tree(store, label, side)
    first = pair(store, Act(clock.now), state="prepared")
    made = first, pair(store, Act(clock.now), 42, "prepared", "Ines Hall")
    plan_keeping.renew(store, Act(clock.now))
    return made


def nexts(page: str) -> list[tuple[str, str]]:
    """Of the boots that are offered next: where each leads, and its words."""
    found = re.findall(r'href="([^"]+)">\s*<span>(Next: [^<]+)</span><small>([^<]+)<', page)
    return [(href.replace("&amp;", "&"), f"{words}, {name}") for href, words, name in found]


def rows(page: str, title: str) -> list[list[str]]:
    """The sides of each row of a list of the bench."""
    start = re.search(rf"<h2[^>]*>{title}\s", page)
    assert start, title
    part = page[start.start() : page.index("</section>", start.start())]
    return [one.split("<br>") for one in re.findall(r'class="row-s">(.+?)</span>', part)]


def on(bench: Counter, item_id: int, **typed: str) -> str:
    """Put on at the stand; the page after."""
    bench.get("/bench/stand")
    typed = {"before": "14 3/8", "on_tree": "15", "back": "stand", **typed}
    answer = bench.post(f"/items/{item_id}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 303
    return bench.get(answer.location).text


def test_a_row_of_boots_goes_onto_its_trees_one_after_another(
    bench: Counter, store: Store, two_pairs: tuple[Pair, Pair]
) -> None:
    first, second = two_pairs
    page = bench.get("/bench/stand?do=put-on").text
    assert "Put several on</h1>" in page
    assert rows(page, "Due now") == [["Left", "Right"], ["Left", "Right"]]
    start = f"/bench/stand?boot={first.left}&do=put-on"
    assert nexts(page) == [(start, "Next: Left 41, tree 4, Marisol Okafor-Lind")]
    form = bench.get(start).text
    assert f"/items/{first.left}/put-on" in form
    assert re.search(r'name="tree"[^>]*value="4"', form)
    assert f"/bench/stand?boot={first.right}&amp;do=put-on" in form, "the other boot is a tap away"

    page = on(bench, first.left, tree="4")
    assert "Same on the right boot" in page
    assert nexts(page) == [
        (f"/bench/stand?boot={second.left}&do=put-on", "Next: Left 42, tree 6, Ines Hall")
    ]
    page = on(bench, second.left, tree="6")
    page = on(bench, second.right, tree="7")
    assert "Same on the" not in page
    assert nexts(page) == [
        (
            f"/bench/stand?boot={first.right}&do=put-on",
            "Next: Right 41, tree 5, Marisol Okafor-Lind",
        )
    ]
    page = on(bench, first.right, tree="5")
    assert nexts(page) == []


def test_the_next_scan_goes_on_with_the_same_step_where_it_follows(
    bench: Counter, store: Store, two_pairs: tuple[Pair, Pair]
) -> None:
    """A boot that waits is put on like the one before; one that cannot be has its own next step."""
    first, second = two_pairs
    with store.write_tx():
        store.change("items", second.left, state="queued")
    page = on(bench, first.left, tree="4")
    assert '<input type="hidden" name="do" value="put-on">' in page
    assert f"/items/{second.left}/put-on" in bench.get("/bench/stand?do=put-on&scan=42L").text
    page = bench.get("/bench/stand?do=put-on&scan=41L").text
    assert "Comes off Tuesday, March 24" in page
    assert f"/items/{first.left}/put-on" not in page


def test_boots_are_measured_one_after_another_past_what_is_decided_of_each(
    bench: Counter, store: Store, clock: Clock, two_pairs: tuple[Pair, Pair]
) -> None:
    first, second = two_pairs
    boots = (first.left, first.right, second.left)
    for item_id, label in zip(boots, ("4", "5", "6"), strict=True):
        step(bench, item_id, "put-on", tree=label, before="14 3/8", on_tree="15")
    clock.on(days=7)
    bench.sign_in()
    for item_id in boots:
        step(bench, item_id, "take-off")
    assert "No boot is due for this now." in bench.get("/bench/stand?do=measure-again").text
    clock.on(hours=25)
    bench.sign_in()
    page = bench.get("/bench").text
    assert rows(page, "To measure") == [["Left", "Right"], ["Left"]]
    assert "/bench/stand?do=measure-again" in page, "several are due"

    for item_id in boots[:2]:
        step(bench, item_id, "measure-again", rested="14 5/8")
    page = bench.get(f"/bench/stand?did={first.right}&step=measure-again").text
    third = (f"/bench/stand?boot={second.left}&do=measure-again", "Next: Left 42, Ines Hall")
    assert nexts(page) == [third]
    step(bench, first.right, "another-round")
    page = bench.get(f"/bench/stand?did={first.right}&step=another-round").text
    assert nexts(page) == [third], "the next one is measured, once this one is decided"
    assert state(store, first.right) == "queued"


def test_the_bench_shows_a_pair_as_one_row_that_begins_its_step(
    bench: Counter, store: Store, clock: Clock, two_pairs: tuple[Pair, Pair]
) -> None:
    """Boots that are told apart, by state or hour or what is said of them, keep a row each."""
    first, _ = two_pairs
    page = bench.get("/bench").text
    assert rows(page, "Put on a tree") == [["Left", "Right"], ["Left", "Right"]]
    assert "Trees 4 and 5" in page
    assert f"/bench/stand?boot={first.left}&amp;do=put-on" in page
    assert "Take off the tree" not in page, "a list with nothing on it has no heading"
    on(bench, first.left, tree="4")
    clock.on(hours=3)
    on(bench, first.right, tree="5")
    page = bench.get("/bench").text
    assert rows(page, "Turn up") == [["Left"]]
    assert rows(page, "On the trees") == [["Left"], ["Right"]], "three hours apart"
    clock.on(days=8)
    bench.sign_in()
    page = bench.get("/bench").text
    assert rows(page, "Take off the tree") == [["Left"], ["Right"]]
    assert "/bench/off" in page


@pytest.mark.parametrize("do", ["put-on", "turn-up", "take-off", "measure-again", "stop", "x"])
def test_a_step_for_many_of_an_empty_shop_is_a_page_to_scan_on(bench: Counter, do: str) -> None:
    page = bench.get(f"/bench/stand?do={do}")
    assert page.status_code == 200
    assert ("No boot is due for this now." in page.text) is (do not in ("stop", "x"))
