"""The stand: a boot is scanned, then a tree, and saved; what is not understood is said and the boot
still held.
"""

from __future__ import annotations

import re

import pytest
from support.bench_cast import TAG, Pair, new_id, put_on, tagged_pair
from support.cast import Clock, Counter

from fitcounter.fit import item_states
from fitcounter.store import rounds
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


@pytest.mark.parametrize(
    "scanned", [TAG, f"HTTPS://SHOP.EXAMPLE/T/{TAG}", "7k3m-9qxw-e", "41L", "41 left"]
)
def test_a_boot_is_heard_from_its_tag_or_its_number(
    bench: Counter, boots: Pair, scanned: str
) -> None:
    """Side and number large, and its next step is there at once."""
    page = bench.get("/bench/stand", query_string={"scan": scanned}).text

    heard = r'<h1 class="heard" data-side="left">Left <span class="fig">41</span></h1>'
    assert re.search(heard, page)
    assert f"/items/{boots.left}/prepare" in page


def test_a_number_without_a_side_asks_which(bench: Counter, boots: Pair) -> None:
    """Both boots of 41 are offered, neither is taken."""
    page = bench.get("/bench/stand?scan=41").text

    assert f"boot={boots.left}" in page
    assert f"boot={boots.right}" in page
    assert "/put-on" not in page


def test_boot_and_tree_make_one_form_filled_in(bench: Counter, store: Store, boots: Pair) -> None:
    """The tree scanned stands in the form; the reading before and the girth to open to come from
    what was read; one Save.
    """
    page = bench.get(f"/bench/stand?boot={boots.left}&scan=tree 4").text

    assert re.search(r'name="tree"[^>]*value="4"', page)
    assert re.search(r'name="before"[^>]*value="14 3/8"', page)
    assert re.search(r'name="planned" value="15 5/16"', page)
    assert "15 5/16 as planned" in page

    typed = {
        "tree": "4",
        "before": "14 3/8",
        "planned": "15 5/16",
        "read_as": "planned",
        "back": "stand",
    }
    answer = bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 303
    assert f"/bench/stand?did={boots.left}" in answer.location
    turn = rounds.of_item(store, boots.left)[0]
    assert [one.girth_text for one in rounds.turns(store, turn.id)] == ["15 5/16"]


def test_a_girth_that_was_not_read_is_never_made_up(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Saved with neither a reading nor a word that it is not read yet: refused.

    With the word: stored as not read.
    """
    bench.get(f"/items/{boots.left}?do=put-on")
    typed = {"tree": "4", "before": "14 3/8", "planned": "15 5/16"}
    answer = bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 422
    assert "not read yet" in answer.text

    assert (
        bench.post(
            f"/items/{boots.left}/put-on", submission_id=new_id(), **typed, read_as="later"
        ).status_code
        == 303
    )
    assert rounds.turns(store, rounds.of_item(store, boots.left)[0].id) == []


def test_what_is_not_understood_is_said_and_the_boot_is_still_held(
    bench: Counter, boots: Pair
) -> None:
    """A misread code says so; the boot scanned before stays on the page."""
    page = bench.get(f"/bench/stand?boot={boots.left}&scan=7K3M9QXWA").text

    assert "One character of this code is not as on the tag" in page
    assert f'name="boot" value="{boots.left}"' in page
    assert "No open ticket has number 99." in bench.get("/bench/stand?scan=99").text


def test_a_tree_alone_says_what_is_on_it(bench: Counter, boots: Pair) -> None:
    """A free tree asks for its boot; a taken one says whose it holds."""
    assert "This tree is free" in bench.get("/bench/stand?scan=tree 4").text
    put_on(bench, boots.left, "4")
    assert "Left 41 is on this tree" in bench.get("/bench/stand?scan=tree 4").text


@pytest.mark.parametrize("typed", ["tree 44", "zzz", "41 X"])
def test_a_short_slip_is_no_code_of_a_tag(bench: Counter, boots: Pair, typed: str) -> None:
    """What was meant as a number or a tree is told all three ways, not only the tag's."""
    page = bench.get(f"/bench/stand?scan={typed}").text
    assert "a customer’s name, a tree’s label, or the nine letters and numbers on the tag." in page


@pytest.mark.parametrize("state", list(item_states.WORDS))
def test_a_boot_in_whatever_state_is_heard_on_the_stand_and_leads_to_its_page(
    bench: Counter, store: Store, boots: Pair, state: str
) -> None:
    """Also one that was handed over: its next step is taken on its page, not here."""
    with store.write_tx():
        store.change("items", boots.left, state=state)
    page = bench.get(f"/bench/stand?boot={boots.left}")
    assert page.status_code == 200
    assert f'href="/items/{boots.left}"' in page.text


def test_a_time_that_came_with_a_step_out_of_order_stays_in_its_question(
    bench: Counter, boots: Pair
) -> None:
    bench.get(f"/items/{boots.left}")
    page = bench.post(
        f"/items/{boots.left}/take-off",
        submission_id=new_id(),
        happened="now",
        happened_time="2026-03-13T16:2O",
    )
    assert (page.status_code, 'value="2026-03-13T16:2O"' in page.text) == (422, True)


@pytest.mark.parametrize("number", ["0", "-1", "9" * 23])
def test_an_address_with_a_number_that_no_row_has_opens_the_page_without_it(
    bench: Counter, boots: Pair, number: str
) -> None:
    assert bench.get(f"/bench/stand?did={number}").status_code == 200
    assert bench.get(f"/bench/stand?boot={number}").status_code == 200
    assert bench.get(f"/bench/plan?pair={number}").status_code == (200 if number == "0" else 404)
