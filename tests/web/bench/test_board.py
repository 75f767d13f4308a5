"""The Bench place: scan a boot, scan a tree, save; many off in a row; the lists, and the trees."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from support.bench_cast import TAG, Pair, bag, new_id, put_on, tagged_pair
from support.cast import Clock, Counter

from fitcounter.fit import item_states
from fitcounter.store import items, rounds
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


@pytest.mark.parametrize("typed", ["tree 44", "zzz", "41 X"])
def test_a_short_slip_is_no_code_of_a_tag(bench: Counter, boots: Pair, typed: str) -> None:
    """What was meant as a number or a tree is told all three ways, not only the tag's."""
    page = bench.get(f"/bench/stand?scan={typed}").text
    assert "a customer’s name, a tree’s label, or the nine letters and numbers on the tag." in page


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


@pytest.mark.parametrize(
    ("path", "typed", "sentence"),
    [
        ("/bench/trees", {"label": "", "side": "left"}, "Type the label on the tree"),
        ("/bench/trees", {"label": "4", "side": "left"}, "Another tree has that label."),
        (
            "/bench/trees",
            {"label": "K2", "side": ""},
            "Pick left boots, right boots or either side.",
        ),
        (
            "/bench/trees",
            {"label": "K2", "side": "left", "closed": "15", "open": "14 1/2"},
            "wide open must be more than the girth closed",
        ),
        ("/bench/trees/1", {"label": "5", "side": "left"}, "Another tree has that label."),
        (
            "/bench/trees/1/measure",
            {"setting": "few", "height": "12", "girth": "14"},
            "Type the setting as a number",
        ),
        (
            "/bench/trees/1/measure",
            {"setting": "0", "height": "12", "girth": "145/8"},
            "The fraction is less than one",
        ),
        (
            "/bench/away",
            {"from_day": "2026-04-10", "to_day": "2026-04-01"},
            "The last day is before the first.",
        ),
        ("/bench/away", {"from_day": "soon", "to_day": ""}, "Type the date as year-month-day"),
        (
            "/bench/slots",
            {"words": "", "sides": "pair", "first": "2026-04-10", "goes": "2"},
            "Type whose boots they are.",
        ),
        (
            "/bench/slots",
            {"words": "Hale", "sides": "pair", "first": "2026-01-10", "goes": "2"},
            "That date has passed",
        ),
        ("/bench/hold/1", {"hold_h": "5"}, "from 12 to 720"),
        ("/bench/off", {"scan": "7K3M9QXWA"}, "One character of this code"),
    ],
)
def test_bad_input_at_the_bench_comes_back_as_typed(
    bench: Counter, store: Store, boots: Pair, path: str, typed: dict[str, str], sentence: str
) -> None:
    """422, one sentence, everything typed still there, nothing stored."""
    before = store.value("SELECT count(*) FROM audit")
    bench.get("/bench/plan")
    answer = bench.post(path, submission_id=new_id(), **typed)

    assert answer.status_code == 422
    assert sentence in answer.text
    for value in typed.values():
        assert value in answer.text
    assert store.value("SELECT count(*) FROM audit") == before


@pytest.mark.parametrize(
    "path",
    [
        "/bench/trees/1/measure",
        "/bench/trees/1/state",
        "/bench/trees/1/tag",
        "/bench/trees/1/readings/1/strike",
        "/bench/away",
        "/bench/away/1/strike",
        "/bench/slots",
        "/bench/slots/1/strike",
        "/bench/hold/1",
    ],
)
def test_what_writes_takes_only_a_form_and_only_from_staff(
    bench: Counter, somebody: Callable[[str], Counter], boots: Pair, path: str
) -> None:
    """Every address that writes refuses GET, and a stranger's form."""
    assert bench.get(path).status_code == 405
    stranger = somebody("")
    stranger.get("/sign-in")
    assert stranger.post(path, submission_id=new_id()).status_code == 401


@pytest.mark.parametrize(
    ("path", "typed", "table"),
    [
        ("/bench/trees", {"label": "K2", "side": "left"}, "trees WHERE label = 'K2'"),
        (
            "/bench/trees/1/measure",
            {"setting": "0", "height": "12", "girth": "14"},
            "tree_calibration",
        ),
        ("/bench/away", {"from_day": "2026-08-10", "to_day": "2026-08-12"}, "closures"),
        (
            "/bench/slots",
            {"words": "Hale", "sides": "left", "first": "2026-06-01", "goes": "1"},
            "bookings WHERE kind = 'slot'",
        ),
        ("/bench/trees/1/tag", {}, "tags WHERE tree_id = 1"),
    ],
)
def test_what_is_sent_twice_is_written_once(
    bench: Counter, store: Store, boots: Pair, path: str, typed: dict[str, str], table: str
) -> None:
    """The same submission again gives the first answer and changes nothing."""
    bench.get("/bench/plan")
    one_id = new_id()
    codes = {bench.post(path, submission_id=one_id, **typed).status_code for _ in range(2)}

    assert codes == {303}
    assert store.value(f"SELECT count(*) FROM {table}") == 1


@pytest.mark.parametrize("number", ["0", "-1", "9" * 23])
def test_an_address_with_a_number_that_no_row_has_opens_the_page_without_it(
    bench: Counter, boots: Pair, number: str
) -> None:
    assert bench.get(f"/bench/stand?did={number}").status_code == 200
    assert bench.get(f"/bench/stand?boot={number}").status_code == 200
    assert bench.get(f"/bench/plan?pair={number}").status_code == (200 if number == "0" else 404)
