"""The tree that somebody wants carries another boot, is booked for one, or is in repair: what is
asked, and which boot ends up on which tree.
"""

from __future__ import annotations

import re

from support.bench_cast import Pair, hidden, pair, tree
from support.cast import Clock, Counter
from support.item_steps import state, step

from fitcounter.store import items, plans, rounds, trees
from fitcounter.store.database import Act, Store


def test_a_tree_that_carries_a_boot_takes_no_other(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """The second left boot is refused with the reason; nothing is stored for it."""
    other = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")

    assert step(bench, other.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8") == 409
    assert "Left 41 is on tree 4. Take Left 41 off first" in bench.pages[-1]
    assert rounds.of_item(store, other.left) == []


def _ways(page: str) -> list[tuple[str, str]]:
    """The buttons of a question, as (field, value)."""
    return re.findall(r'<button class="[^"]*" name="([^"]+)"\s+value="([^"]+)"', page)


def test_a_tree_that_is_taken_is_freed_by_one_tap_with_everything_typed(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """The boot on it comes off and rests, in the same save; each step can be taken back."""
    other = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(days=7)
    step(bench, other.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    assert ("other_off", str(boots.left)) in _ways(bench.pages[-1])
    assert "Take Left 41 off, put this on" in bench.pages[-1]
    typed = hidden(bench.pages[-1])
    assert (typed["tree"], typed["before"], typed["on_tree"]) == ("4", "14 3/8", "14 7/8")

    answer = bench.post(f"/items/{other.left}/put-on", **typed, other_off=str(boots.left))
    assert "Left 41 then goes on tree 4" in answer.text, "its next round moves"
    again = hidden(answer.text)
    assert bench.post(f"/items/{other.left}/put-on", **again, take_tree="1").status_code == 303
    assert (state(store, boots.left), state(store, other.left)) == ("resting", "on-tree")
    assert step(bench, other.left, "undo", step_id=items.steps(store, other.left)[-1].id) == 303
    assert step(bench, boots.left, "undo", step_id=items.steps(store, boots.left)[-1].id) == 303
    assert (state(store, boots.left), state(store, other.left)) == ("on-tree", "queued")


def test_while_its_hold_runs_the_boot_on_the_tree_can_move_to_another_tree(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Another tree for this boot is the large button; then swapping, with the hold going on until
    the same day; taking the other off early is last. The move can be taken back.
    """
    other = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    tree(store, "6")
    typed = {"tree": "4", "before": "14 3/8", "on_tree": "14 7/8"}
    step(bench, boots.left, "put-on", **typed)
    due = rounds.of_item(store, boots.left)[0].due_off_at
    step(bench, other.left, "put-on", **typed)
    page = bench.pages[-1]
    assert "The hold of Left 41 runs until Tuesday, March 24, 10:00 AM." in page
    swap = f"{boots.left}&gt;6"
    assert _ways(page) == [
        ("instead", "6"),
        ("other_off", swap),
        ("other_off", str(boots.left)),
    ]
    assert "Move Left 41 to tree 6, put this on" in page

    wrong = f"{boots.left}>5"
    assert step(bench, other.left, "put-on", **typed, other_off=wrong) == 422, "for right boots"
    assert state(store, other.left) == "queued"
    again = {**typed, "take_tree": "1", "other_off": swap.replace("&gt;", ">")}
    assert step(bench, other.left, "put-on", **again) == 303
    assert [
        trees.get(store, rounds.of_item(store, one)[0].tree_id or 0).label
        for one in (boots.left, other.left)
    ] == ["6", "4"]
    moved = rounds.of_item(store, boots.left)[0]
    assert (moved.due_off_at, moved.off_at) == (due, None)
    assert "Moved to tree 6" in bench.get(f"/items/{boots.left}").text
    claims = {one.item_id: one.tree_id for one in plans.bookings(store) if one.kind == "running"}
    assert claims == {boots.left: moved.tree_id, other.left: trees.by_label(store, "4").id}

    assert step(bench, other.left, "undo", step_id=items.steps(store, other.left)[-1].id) == 303
    assert step(bench, boots.left, "undo", step_id=items.steps(store, boots.left)[-1].id) == 303
    back = rounds.of_item(store, boots.left)[0]
    assert trees.get(store, back.tree_id or 0).label == "4"


def test_only_the_boot_that_was_named_comes_off(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Somebody else put another boot on meanwhile: it stays, and the question is asked anew."""
    other = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    typed = {"tree": "4", "before": "14 3/8", "on_tree": "14 7/8"}

    assert step(bench, other.left, "put-on", **typed, other_off=str(boots.right)) == 409
    assert (state(store, boots.left), state(store, other.left)) == ("on-tree", "queued")


def test_another_tree_that_serves_is_one_tap_and_can_be_typed(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Free trees of its side that serve the boot; the girths typed go with it."""
    tree(store, "6")
    tree(store, "7", "right")
    tree(store, "9", state="repair")
    step(bench, boots.left, "put-on", tree="9", before="14 3/8", on_tree="14 7/8")
    labels = {value for name, value in _ways(bench.pages[-1]) if name == "instead"}
    assert labels == {"4", "6"}
    typed = hidden(bench.pages[-1])
    answer = bench.post(f"/items/{boots.left}/put-on", **{**typed, "instead": "nine"})
    assert answer.status_code == 422
    assert "no tree with that label" in answer.text
    assert re.search(r'name="tree"[^>]*value="nine"', answer.text)

    answer = bench.post(f"/items/{boots.left}/put-on", **{**typed, "instead": "6"})
    assert answer.status_code == 303
    (turn,) = rounds.of_item(store, boots.left)
    assert turn.before_text == "14 3/8"
    assert store.value("SELECT label FROM trees WHERE id = ?", turn.tree_id) == "6"


def test_a_tree_in_repair_is_not_used(bench: Counter, store: Store, boots: Pair) -> None:
    """In repair: the sentence says so and the label stays typed."""
    tree(store, "9", state="repair")
    assert step(bench, boots.left, "put-on", tree="9", before="14 3/8") == 422
    assert "Tree 9 is in repair" in bench.pages[-1]


def test_a_booked_tree_asks_who_goes_first(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """A tree planned for another boot asks; said again, this boot goes on and the other's claim is
    gone.
    """
    other = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    tree_id = store.value("SELECT id FROM trees WHERE label = '4'")
    with store.write_tx():
        store.insert(
            "bookings",
            tree_id=tree_id,
            item_id=other.left,
            kind="planned",
            round_n=1,
            from_day="2026-03-18",
            to_day="2026-03-25",
        )
    typed = {"tree": "4", "before": "14 3/8", "on_tree": "14 7/8"}

    assert step(bench, boots.left, "put-on", **typed) == 422
    assert "Tree 4 is booked from" in bench.pages[-1]
    assert "Put this boot on first" in bench.pages[-1]
    assert step(bench, boots.left, "put-on", **typed, take_tree="1") == 303
    assert store.value("SELECT item_id FROM bookings WHERE kind = 'running'") == boots.left
    assert (
        store.value(
            "SELECT from_day FROM bookings WHERE item_id = ? AND tree_id = ?", other.left, tree_id
        )
        >= "2026-03-24"
    )
