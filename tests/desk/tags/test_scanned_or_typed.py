"""One reader of a tag's text: codes and addresses, numbers with a side, labels of trees."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock

from fitcounter.desk.tags import scanned_or_typed
from fitcounter.errors import BadInput, NotFound, RetiredTag
from fitcounter.fit.tagcode import show_code
from fitcounter.store import tags
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return pair(store, Act(clock.now))


def made(store: Store, clock: Clock, **tied_to: int) -> str:
    """The code of a new tag."""
    with store.write_tx():
        tag_id = tags.make(store, Act(clock.now, None), None, None, **tied_to)
    return tags.get(store, tag_id).code


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("41", (41, None)),
        (" 41 L ", (41, "left")),
        ("41right", (41, "right")),
        ("41l", (41, "left")),
        ("41 M", None),
        ("41234", None),
        ("K2", None),
        ("٤١", None),
    ],
)
def test_a_number_is_spoken_with_its_side_or_without(
    typed: str, number: tuple[int, str | None] | None
) -> None:
    assert scanned_or_typed.spoken_number(typed) == number


def test_a_scan_knows_boot_pair_tree_and_the_boot_from_before(
    store: Store, clock: Clock, boots: Pair
) -> None:
    """A number alone is both boots of a pair; a tree goes with the boot that was scanned first."""
    tree_id = tree(store, "4", "left")

    by_number = scanned_or_typed.scan(store, "41 R")
    assert by_number.boot is not None
    assert by_number.boot.id == boots.right
    assert [row.id for row in scanned_or_typed.scan(store, "41").which] == [boots.left, boots.right]
    with_tree = scanned_or_typed.scan(store, made(store, clock, tree_id=tree_id), boots.left)
    assert with_tree.put_on
    assert with_tree.tree is not None
    assert with_tree.tree.label == "4"
    assert scanned_or_typed.scan(store, "", boots.left).tree is None


def test_one_item_is_meant_or_the_sentence_says_why_not(
    store: Store, clock: Clock, boots: Pair
) -> None:
    tree_id = tree(store, "K2", "left")

    assert (
        scanned_or_typed.scanned_boot(store, made(store, clock, item_id=boots.left)).id
        == boots.left
    )
    with pytest.raises(BadInput, match="Left or right"):
        scanned_or_typed.scanned_boot(store, "41")
    with pytest.raises(BadInput, match="on a tree"):
        scanned_or_typed.scanned_boot(store, "K2")
    with pytest.raises(BadInput, match="No open ticket has number 77"):
        scanned_or_typed.scanned_boot(store, "77")
    with pytest.raises(BadInput, match="not on any item yet"):
        scanned_or_typed.scanned_boot(store, made(store, clock))
    with pytest.raises(BadInput, match="on a tree"):
        scanned_or_typed.tagged_item(store, made(store, clock, tree_id=tree_id))
    with pytest.raises(NotFound, match="not on any item"):
        scanned_or_typed.tagged_item(store, made(store, clock))


def test_a_retired_tag_is_an_error_that_leads_on(store: Store, clock: Clock, boots: Pair) -> None:
    """Twice replaced: the address says the last tag; every other way refuses the old ones."""
    first = made(store, clock, item_id=boots.left)
    with store.write_tx():
        second_id = tags.replace(store, Act(clock.now), tags.by_code(store, first).id)
        third_id = tags.replace(store, Act(clock.now), second_id)
    last = tags.get(store, third_id).code

    for code in (first, tags.get(store, second_id).code):
        target = scanned_or_typed.target_of(store, f"https://bench.example/T/{code}")
        assert target.retired
        assert (target.item_id, target.goes_to) == (boots.left, show_code(last))
        with pytest.raises(RetiredTag) as refused:
            scanned_or_typed.tagged_item(store, code)
        assert refused.value.code == show_code(code)
    assert scanned_or_typed.tagged_item(store, last) == boots.left
    assert not scanned_or_typed.target_of(store, last).retired


def test_a_name_finds_what_its_customer_has_here(store: Store, boots: Pair, clock: Clock) -> None:
    """From two letters of any word of it; what went home is not offered."""
    other = pair(store, Act(clock.now), 42, name="Marisol Quarrington")
    with store.write_tx():
        store.change("items", other.left, state="out")
    assert {one.id for one in scanned_or_typed.scan(store, "okafor").which} == {
        boots.left,
        boots.right,
    }
    assert {one.id for one in scanned_or_typed.scan(store, "mari").which} == {
        boots.left,
        boots.right,
        other.right,
    }
    alone = scanned_or_typed.scan(store, "Quarrington").boot
    assert alone is not None
    assert alone.id == other.right
    assert scanned_or_typed.scan(store, "x").boot is None
    assert "a customer’s name" in scanned_or_typed.scan(store, "Nobody").sentence
    assert scanned_or_typed.scan(store, "mari7").boot is None


def test_a_tree_of_that_label_goes_before_a_name(store: Store, boots: Pair) -> None:
    tree(store, "Ma")
    found = scanned_or_typed.scan(store, "Ma", boots.left)
    assert found.tree is not None
    assert found.put_on
