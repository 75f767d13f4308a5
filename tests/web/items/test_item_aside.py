"""One boot off the straight way: out of order, further along, taken back, waiting, other work, and
two people at once.
"""

from __future__ import annotations

import re

from support.bench_cast import Pair, bag
from support.cast import Clock, Counter
from support.item_steps import somebody_id, state, step

from fitcounter.store import items, plans, rounds
from fitcounter.store.database import Store


def test_a_step_out_of_order_asks_is_it_off(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Measured again though it is down as on the tree: three ways on, and the answer saves both
    steps.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(days=8)
    assert step(bench, boots.left, "measure-again", rested="14 3/4") == 422
    page = bench.pages[-1]
    assert "Left 41 is saved as on the tree. Is the boot off now?" in page
    assert "Yes, off just now" in page
    assert "Yesterday evening" in page
    assert "Wrong boot" in page

    typed = dict(re.findall(r'<input type="hidden" name="(?!csrf)([^"]+)" value="([^"]*)">', page))
    assert typed["rested"] == "14 3/4"
    clock.on(hours=8)
    bench.get("/bench")
    assert (
        bench.post(f"/items/{boots.left}/measure-again", **typed, off="yesterday").status_code
        == 303
    )

    turn = rounds.of_item(store, boots.left)[0]
    assert (turn.off_at, turn.rested_counts) == ("2026-03-24T22:00:00Z", 1)
    assert [one.step for one in items.steps(store, boots.left)] == [
        "put-on",
        "take-off",
        "measure-again",
    ]
    assert state(store, boots.left) == "to-decide"


def test_further_along_keeps_what_was_skipped_as_not_recorded(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """From the queue straight to resting: a round is counted as lived, without any reading."""
    assert step(bench, boots.left, "further", state="resting") == 303

    turn = rounds.of_item(store, boots.left)[0]
    assert (turn.before_um, turn.on_at, turn.rested_um) == (None, None, None)
    assert turn.off_at is not None
    row = items.steps(store, boots.left)[-1]
    assert (row.step, row.recorded) == ("catch-up", 0)
    assert "not recorded" in bench.get(f"/items/{boots.left}").text


def test_further_along_on_a_tree_asks_which_and_nobody_else_gets_it(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    page = bench.get(f"/items/{boots.left}?do=further").text
    assert "Which tree, if it is on one" in page
    for label, code in (("99", 422), ("5", 422)):  # none such, and one for right boots
        assert step(bench, boots.left, "further", state="on-tree", tree=label) == code
        assert state(store, boots.left) == "queued"
    assert step(bench, boots.left, "further", state="on-tree", tree="4") == 303
    assert "On tree 4" in bench.get(f"/items/{boots.left}").text
    (booking,) = [one for one in plans.bookings(store) if one.kind == "running"]
    assert (booking.item_id, booking.from_day) == (boots.left, "2026-03-17")
    (turn,) = rounds.of_item(store, boots.left)
    assert turn.before_um is None, "no reading is made up"


def test_the_last_step_is_taken_back(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Taken off by mistake: undone, it is on its tree again, and the history says so; the same undo
    twice is a conflict.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(hours=1)
    step(bench, boots.left, "take-off", came_out="gripped")
    last = items.steps(store, boots.left)[-1].id

    assert step(bench, boots.left, "undo", step_id=last) == 303

    turn = rounds.of_item(store, boots.left)[0]
    assert (state(store, boots.left), turn.off_at, turn.came_out) == ("on-tree", None, "")
    assert store.value("SELECT kind FROM bookings WHERE item_id = ?", boots.left) == "running"
    assert "</s>, undone" in bench.get(f"/items/{boots.left}").text
    assert step(bench, boots.left, "undo", step_id=last) == 409


def test_undoing_the_first_step_leaves_no_round_behind(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Put on the wrong boot: after taking it back there is no round, no turn, no claim on the
    tree.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8", setting="6")
    step(bench, boots.left, "undo", step_id=items.steps(store, boots.left)[-1].id)

    assert state(store, boots.left) == "queued"
    for table in ("rounds", "turns", "tree_calibration", "undos"):
        assert store.value(f"SELECT count(*) FROM {table}") == 0
    assert store.value("SELECT count(*) FROM bookings WHERE kind = 'running'") == 0


def test_how_the_tree_came_out_says_what_it_is_a_sign_of(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    """A tree that grips is a sign that the set did not hold; nothing is said of one that eased
    out.
    """
    for item_id, tree_label, came_out, said in (
        (boots.left, "4", "gripped", True),
        (boots.right, "5", "eased", False),
    ):
        assert (
            step(bench, item_id, "put-on", tree=tree_label, before="14 3/8", on_tree="14 7/8")
            == 303
        )
        clock.on(days=7)
        assert step(bench, item_id, "take-off", came_out=came_out) == 303
        assert ("a sign that the set did not hold" in bench.get(f"/items/{item_id}").text) is said


def test_the_bench_says_how_to_look_after_oneself_where_it_is_needed(
    bench: Counter, boots: Pair
) -> None:
    """Solvents and heat where a boot is prepared, the loaded screw where it goes on a tree, all of
    it on the bench.
    """
    assert "No heat above 45 °C" in bench.get(f"/items/{boots.left}?do=prepare").text
    assert "wear eye cover" in bench.get(f"/items/{boots.left}?do=put-on").text
    assert "licensed practice" in bench.get("/bench").text


def test_waiting_and_going_on(bench: Counter, store: Store, boots: Pair) -> None:
    """It waits for a part and goes on where it stood."""
    step(bench, boots.left, "prepare", prepared="dry")
    assert step(bench, boots.left, "wait", waits_for="part", waits_what="brass zip pull") == 303
    page = " ".join(bench.get(f"/items/{boots.left}").text.split())
    assert "On hold, waiting for a part: brass zip pull. Call the customer with a new date." in page
    for path in ("/", "/bench", f"/tickets/{boots.ticket_id}"):
        assert "on hold: brass zip pull" in bench.get(path).text, path
    assert "brass" not in bench.get("/ready.json").text
    assert step(bench, boots.left, "go-on") == 303
    left = items.get(store, boots.left)
    assert (left.state, left.waits_for, left.waits_what) == ("prepared", "", "")
    assert step(bench, boots.left, "undo", step_id=items.steps(store, boots.left)[-1].id) == 303
    assert items.get(store, boots.left).waits_what == "brass zip pull"


def test_other_work_has_its_plain_steps(bench: Counter, store: Store, boots: Pair) -> None:
    """A bag is begun, done and put on a shelf."""
    bag_id = bag(store, boots.ticket_id)
    assert step(bench, bag_id, "start-work") == 303
    assert step(bench, bag_id, "work-done", shelf="") == 422
    assert step(bench, bag_id, "work-done", shelf="D1") == 303
    assert (state(store, bag_id), items.get(store, bag_id).shelf) == ("shelved", "D1")
    assert step(bench, bag_id, "undo", step_id=items.steps(store, bag_id)[-1].id) == 303
    assert (state(store, bag_id), items.get(store, bag_id).shelf) == ("working", "")


def test_two_people_at_once_the_second_is_told(
    bench: Counter, counter: Counter, store: Store, boots: Pair
) -> None:
    """A page that was open while somebody else saved a step gets a conflict, and nothing is
    written.
    """
    counter.get(f"/items/{boots.left}")
    step(bench, boots.left, "prepare", prepared="dry")

    answer = counter.post(
        f"/items/{boots.left}/wait", submission_id=somebody_id(), version="1", waits_for="part"
    )

    assert answer.status_code == 409
    assert "Someone changed this while you were typing" in answer.text
    assert state(store, boots.left) == "prepared"


def test_a_strangers_scan_shows_the_shop_and_nothing_else(
    bench: Counter, stranger: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Signed out: name and phone, the same for a living, a dead and an unknown code; signed in: the
    item, in either case.
    """
    with store.write_tx():
        store.insert(
            "tags",
            code="7K3M9QXWE",
            number=41,
            side="left",
            item_id=boots.left,
            printed_at="2026-03-17T14:00:00Z",
        )
    code = "7K3M9QXWE"
    pages = {
        stranger.get(path).text for path in (f"/T/{code}", f"/t/{code.lower()}", "/T/AAAAAAAAA")
    }

    assert len(pages) == 1
    page = re.sub(
        r"/static/[0-9a-f]+/", "/static/", pages.pop()
    )  # its version is any twelve figures
    assert "Quillmarsh Leather Bench" in page
    assert "(555) 010-0199" in page
    for unseen in ("Okafor", "41", "eft", "boot", code):
        assert unseen not in re.sub(r"(?s)<head>.*?</head>", "", page)
