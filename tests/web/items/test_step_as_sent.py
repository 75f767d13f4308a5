"""Steps of an item as their forms are sent: when each happened, what cannot be read, questions."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import somebody_id, state, step

from fitcounter.store import items, rounds
from fitcounter.store.database import Store


def test_each_step_says_when_it_happened_beside_when_it_was_saved(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Put on yesterday evening, saved now: both are kept, and the hold counts from what
    happened.
    """
    clock.on(days=1)
    assert (
        step(
            bench,
            boots.left,
            "put-on",
            tree="4",
            before="14 3/8",
            on_tree="14 7/8",
            happened="yesterday",
        )
        == 303
    )

    row = items.steps(store, boots.left)[0]
    assert (row.happened_at, row.saved_at) == ("2026-03-17T22:00:00Z", "2026-03-18T14:00:00Z")
    turn = rounds.of_item(store, boots.left)[0]
    assert (turn.on_at, turn.due_off_at) == ("2026-03-17T22:00:00Z", "2026-03-24T22:00:00Z")


@pytest.mark.parametrize(
    ("name", "typed", "sentence"),
    [
        ("prepare", {"prepared": ""}, "Pick how the boot was prepared"),
        ("put-on", {"tree": "", "before": "14 3/8"}, "Scan the tree"),
        ("put-on", {"tree": "77", "before": "14 3/8"}, "no tree with that label"),
        ("put-on", {"tree": "5", "before": "14 3/8"}, "for right boots"),
        (
            "put-on",
            {"tree": "4", "before": "14 3/8", "on_tree": "14 3/8"},
            "must read more than the 14⅜",
        ),
        ("put-on", {"tree": "4", "before": "145/8"}, "The fraction is less than one"),
        (
            "put-on",
            {"tree": "4", "before": "14 3/8", "happened": "time", "happened_time": "soon"},
            "Type the date and time",
        ),
        (
            "put-on",
            {
                "tree": "4",
                "before": "14 3/8",
                "happened": "time",
                "happened_time": "2027-01-01T10:00",
            },
            "has not come yet",
        ),
        ("wait", {"waits_for": ""}, "Pick what this waits for"),
        ("stop", {"what": ""}, "what went wrong"),
    ],
)
def test_what_cannot_be_read_comes_back_as_typed(
    bench: Counter, store: Store, boots: Pair, name: str, typed: dict[str, str], sentence: str
) -> None:
    """422, one sentence, everything typed still there, nothing stored."""
    assert step(bench, boots.left, name, **typed) == 422

    page = bench.pages[-1]
    assert sentence in page
    for value in typed.values():
        assert value in page
    assert state(store, boots.left) == "queued"
    assert rounds.of_item(store, boots.left) == []


@pytest.mark.parametrize(
    "name", ["prepare", "put-on", "take-off", "measure-again", "shelve", "stop", "further", "undo"]
)
def test_a_step_takes_only_a_form_and_only_from_staff(
    bench: Counter, somebody: Callable[[str], Counter], boots: Pair, name: str
) -> None:
    """A step's address refuses GET, and a stranger's form."""
    assert bench.get(f"/items/{boots.left}/{name}").status_code == 405
    stranger = somebody("")
    stranger.get("/sign-in")
    assert (
        stranger.post(f"/items/{boots.left}/{name}", submission_id=somebody_id()).status_code == 401
    )


def test_a_step_sent_twice_is_saved_once(bench: Counter, store: Store, boots: Pair) -> None:
    """The same submission again gives the first answer and writes nothing."""
    bench.get(f"/items/{boots.left}")
    typed = {
        "submission_id": "only-once-please",
        "tree": "4",
        "before": "14 3/8",
        "on_tree": "14 7/8",
    }

    codes = [bench.post(f"/items/{boots.left}/put-on", **typed).status_code for _ in range(2)]

    assert codes == [303, 303]
    assert len(items.steps(store, boots.left)) == 1
    assert len(rounds.of_item(store, boots.left)) == 1


def test_off_before_on_is_asked_again(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """A time before it went on the tree is refused with a sentence; the boot stays on the tree."""
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(days=1)

    assert (
        step(bench, boots.left, "take-off", happened="time", happened_time="2026-03-16T10:00")
        == 422
    )
    assert "The boot went on the tree after that time. Type a later time." in bench.pages[-1]
    assert state(store, boots.left) == "on-tree"


def test_a_reading_before_24_hours_is_kept_and_does_not_count(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Read 23 hours after it came off: kept and marked, and the boot goes on resting; an hour later
    it counts.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(days=7)
    step(bench, boots.left, "take-off")
    clock.on(hours=23)
    assert step(bench, boots.left, "measure-again", rested="14 3/4") == 303

    early = rounds.of_item(store, boots.left)[0]
    assert (early.rested_text, early.rested_counts, state(store, boots.left)) == (
        "14 3/4",
        0,
        "resting",
    )
    assert "does not count" in bench.get(f"/items/{boots.left}").text

    clock.on(hours=1)
    step(bench, boots.left, "measure-again", rested="14 11/16")
    counted = rounds.of_item(store, boots.left)[0]
    assert (counted.rested_text, counted.rested_counts, state(store, boots.left)) == (
        "14 11/16",
        1,
        "to-decide",
    )
