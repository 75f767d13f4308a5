"""One boot at the bench, by forms that work without script: from the queue to the shelf, and what
is refused on the way.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime

from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import state, step

from fitcounter.desk.staff import people
from fitcounter.store import items, rounds, staff
from fitcounter.store.database import Act, Store


def test_a_boot_goes_from_the_queue_to_the_shelf_by_forms(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Prepared, on the tree, turned up, off, rested, measured, another go decided, done, finished
    and on the shelf.
    """
    left = boots.left
    assert step(bench, left, "prepare", prepared="conditioned", prepared_with="lanolin") == 303
    assert (
        step(bench, left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8", setting="6") == 303
    )
    clock.on(hours=4)
    assert step(bench, left, "turn-up", girth="15 1/16", setting="8") == 303
    clock.on(days=7)
    assert step(bench, left, "take-off", came_out="eased") == 303
    folded = '<details class="step" id="measure-again">'
    assert folded in bench.get(f"/items/{left}").text, "it rests, and is not to be measured yet"
    clock.on(hours=25)
    bench.sign_in()
    opened = folded.replace('" id', '" open id')
    assert opened in bench.get(f"/items/{left}").text, "nothing to open first"
    assert step(bench, left, "measure-again", rested="14 13/16") == 303
    assert state(store, left) == "to-decide"
    assert step(bench, left, "another-round") == 303
    assert (
        step(bench, left, "put-on", tree="4", before="14 13/16", on_tree="15 1/4", setting="9")
        == 303
    )
    clock.on(days=7)
    assert step(bench, left, "take-off") == 303
    clock.on(hours=25)
    assert step(bench, left, "measure-again", rested="15") == 303
    assert step(bench, left, "done") == 303
    assert step(bench, left, "finish", shaper="12") == 303
    assert step(bench, left, "shelve", shelf="C2", shaper="12") == 303

    held = items.get(store, left)
    assert (held.state, held.shelf, held.shaper) == ("shelved", "C2", "12")
    first, second = rounds.of_item(store, left)
    assert (first.before_text, first.rested_text, first.came_out, first.prepared) == (
        "14 3/8",
        "14 13/16",
        "eased",
        "conditioned",
    )
    assert [turn.girth_text for turn in rounds.turns(store, first.id)] == ["14 7/8", "15 1/16"]
    assert (first.outcome, second.outcome) == ("another", "done")
    assert [one.step for one in items.steps(store, left)] == [
        "prepare",
        "put-on",
        "turn-up",
        "take-off",
        "measure-again",
        "another-round",
        "put-on",
        "take-off",
        "measure-again",
        "done",
        "finish",
        "shelve",
    ]


def test_the_page_shows_the_side_the_number_and_one_next_step(bench: Counter, boots: Pair) -> None:
    """LEFT 41 and whose it is; exactly one large next step; the history says nothing happened
    yet.
    """
    page = bench.get(f"/items/{boots.left}").text

    assert re.search(r'<h1>Left <span class="fig">41</span>', page)
    assert "Okafor-Lind" in page
    assert page.count('<summary class="next">') == 1
    assert "Save as prepared" in page


def test_where_a_rule_says_to_stop_the_customer_is_asked_before_another_round(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """One round was agreed and is done, and the boot is short: the large button asks, on its page
    and where it was scanned; another round stays a small choice.
    """
    left = boots.left
    with store.write_tx():
        store.db.execute("UPDATE fits SET max_rounds = 1")
    assert step(bench, left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8") == 303
    clock.on(days=7)
    assert step(bench, left, "take-off") == 303
    clock.on(hours=25)
    assert step(bench, left, "measure-again", rested="14 1/2") == 303
    for page in (f"/items/{left}", f"/bench/stand?boot={left}"):
        shown = bench.get(page).text
        (big,) = re.findall(r'<a class="press next" href="([^"]+)">\s*<span>([^<]+)', shown)
        assert big == (f"/items/{left}?do=wait", "Ask the customer")
        assert f'action="/items/{left}/another-round"' not in shown
    assert f"/items/{left}?do=another-round" in bench.get(f"/items/{left}").text


def test_the_page_draws_the_boot_against_the_line_it_must_reach(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Of this boot alone, and said in words; a boot that is done is wide enough, and one nobody
    measured is not drawn.
    """
    page = bench.get(f"/items/{boots.left}").text
    assert "The left boot, from the side" in page
    assert "Left boot: short" in page
    assert "Right boot: short" not in page
    with store.write_tx():
        store.db.execute(
            "UPDATE leg_readings SET girth_um = 250000, girth_text = '250 mm', unit = 'mm' WHERE"
            " side = 'left'"
        )
    assert "Left boot: wide enough" in bench.get(f"/items/{boots.left}").text
    with store.write_tx():
        store.db.execute("DELETE FROM boot_readings")
    assert "from the side" not in bench.get(f"/items/{boots.left}").text


def test_a_boot_read_inside_is_read_once_outside_before_its_first_round(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """The form says why the field is empty and what the tape should say; a boot that was read
    outside has its reading there.
    """
    assert 'value="14 3/8"' in bench.get(f"/items/{boots.left}?do=put-on").text
    with store.write_tx():
        store.db.execute("UPDATE boot_readings SET method = 'inside'")
        store.db.execute("UPDATE items SET method = 'inside'")
    page = bench.get(f"/items/{boots.left}?do=put-on").text
    assert "read once now" in page
    assert re.search(
        r"The tape should say about .{0,20}14.{1,20}15.{1,20}16", page
    )  # 14 3/8 in and 2π × 2.2 mm: 14 15/16
    assert 'value="14 3/8"' not in page


def test_who_did_a_step_stands_in_its_history_when_they_have_left(
    bench: Counter, owner: Counter, store: Store, boots: Pair
) -> None:
    step(bench, boots.left, "prepare", prepared="dry")
    ben = staff.by_initials(store, "BE")
    assert ben is not None
    people.set_active(store, Act(datetime(2026, 3, 18, tzinfo=UTC), 3), ben.id, False)
    assert re.search(r"\bBen\b", owner.get(f"/items/{boots.left}").text)
