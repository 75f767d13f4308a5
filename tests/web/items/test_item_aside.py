"""One boot off the straight way: out of order, taken back, booked, stopped, waiting, and two people
at once.
"""

from __future__ import annotations

import re

from support.bench_cast import Pair, bag, hidden, pair, tree
from support.cast import Clock, Counter
from support.item_steps import somebody_id, state, step

from fitcounter.store import items, plans, rounds, trees
from fitcounter.store.database import Act, Store


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


def test_something_went_wrong_stops_the_boot_and_opens_a_record(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """A boot on its tree comes off, stops, and the record holds what was said; going on leads back
    to where it stood.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    assert step(bench, boots.left, "stop", what="grain whitened", where_on="inner calf") == 303

    assert state(store, boots.left) == "stopped"
    assert "Stopped: grain whitened. Ask the customer" in " ".join(
        bench.get(f"/items/{boots.left}").text.split()
    )
    assert store.rows("SELECT what, where_on FROM incidents") == [
        {"what": "grain whitened", "where_on": "inner calf"}
    ]
    assert store.value("SELECT count(*) FROM bookings WHERE item_id = ?", boots.left) == 0
    assert "grain whitened" not in str(store.rows("SELECT detail FROM audit"))


def test_a_stopped_boot_goes_on_only_when_what_went_wrong_is_settled(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Until then its page leads to the record; afterwards it rests, as it came off its tree, and
    its reading belongs to that round.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(hours=5)
    step(bench, boots.left, "stop", what="grain whitened")
    page = bench.get(f"/items/{boots.left}").text
    assert "Fix or agree" in page
    assert ">Continue the work<" not in page
    assert "Fix or agree" in bench.get(f"/bench/stand?boot={boots.left}").text
    assert step(bench, boots.left, "go-on") == 422
    assert "is not settled yet" in bench.pages[-1]

    incident_id = store.value("SELECT id FROM incidents")
    bench.get(f"/incidents/{incident_id}")
    assert (
        bench.post(
            f"/incidents/{incident_id}",
            submission_id=somebody_id(),
            agreed="go on",
            told="y",
            settled="y",
        ).status_code
        == 303
    )
    assert "Continue the work" in bench.get(f"/items/{boots.left}").text
    assert step(bench, boots.left, "go-on") == 303
    assert state(store, boots.left) == "resting"
    clock.on(hours=25)
    assert step(bench, boots.left, "measure-again", rested="14 9/16") == 303
    assert [one.rested_text for one in rounds.of_item(store, boots.left)] == ["14 9/16"]


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
