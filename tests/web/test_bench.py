"""The Bench place: scan a boot, scan a tree, save; many off in a row; trees; the plan and what the shop decides about it."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO
from itertools import count

import pytest
from bench_cast import Pair, bag, pair, tree
from cast import Clock, Counter
from pypdf import PdfReader

from fitcounter.store import items, plans, rounds, trees
from fitcounter.store.database import Act, Store

CODE = "7K3M9QXWE"
_ids = count()


def new_id() -> str:
    return f"bench-form-{next(_ids):06}"


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    tree(store, "4")
    tree(store, "5", "right")
    made = pair(store, Act(clock.now))
    with store.write_tx():
        store.insert("tags", code=CODE, number=41, side="left", item_id=made.left, printed_at="2026-03-17T14:00:00Z")
    return made


def put_on(bench: Counter, item_id: int, label: str) -> None:
    bench.get(f"/items/{item_id}")
    typed = {"tree": label, "before": "14 3/8", "on_tree": "15"}
    assert bench.post(f"/items/{item_id}/put-on", submission_id=new_id(), **typed).status_code == 303


def hidden(page: str) -> dict[str, str]:
    """What a page's forms carry unseen, the token left out."""
    return dict(re.findall(r'<input type="hidden" name="(?!csrf)([^"]+)" value="([^"]*)">', page))


# ---------------------------------------------------------------- scanning


@pytest.mark.parametrize("scanned", [CODE, f"HTTPS://SHOP.EXAMPLE/T/{CODE}", "7k3m-9qxw-e", "41L", "41 left"])
def test_a_boot_is_heard_from_its_tag_or_its_number(bench: Counter, boots: Pair, scanned: str) -> None:
    """Side and number large, and its next step is there at once."""
    page = bench.get("/bench/stand", query_string={"scan": scanned}).text

    assert re.search(r'<h1 class="heard">Left <span class="fig">41</span></h1>', page)
    assert f"/items/{boots.left}/prepare" in page


def test_a_number_without_a_side_asks_which(bench: Counter, boots: Pair) -> None:
    """Both boots of 41 are offered, neither is taken."""
    page = bench.get("/bench/stand?scan=41").text

    assert f"boot={boots.left}" in page
    assert f"boot={boots.right}" in page
    assert "/put-on" not in page


def test_boot_and_tree_make_one_form_filled_in(bench: Counter, store: Store, boots: Pair) -> None:
    """The tree scanned stands in the form; the reading before and the girth to open to come from what was read; one Save."""
    page = bench.get(f"/bench/stand?boot={boots.left}&scan=tree 4").text

    assert re.search(r'name="tree"[^>]*value="4"', page)
    assert re.search(r'name="before"[^>]*value="14 3/8"', page)
    assert re.search(r'name="planned" value="15 3/16"', page)
    assert "15 3/16 as planned" in page

    typed = {"tree": "4", "before": "14 3/8", "planned": "15 3/16", "read_as": "planned", "back": "stand"}
    answer = bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 303
    assert f"/bench/stand?did={boots.left}" in answer.location
    turn = rounds.of_item(store, boots.left)[0]
    assert [one.girth_text for one in rounds.turns(store, turn.id)] == ["15 3/16"]


def test_a_girth_that_was_not_read_is_never_made_up(bench: Counter, store: Store, boots: Pair) -> None:
    """Saved with neither a reading nor a word that it is not read yet: refused. With the word: stored as not read."""
    bench.get(f"/items/{boots.left}?do=put-on")
    typed = {"tree": "4", "before": "14 3/8", "planned": "15 3/16"}
    answer = bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 422
    assert "not read yet" in answer.text

    assert bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed, read_as="later").status_code == 303
    assert rounds.turns(store, rounds.of_item(store, boots.left)[0].id) == []


def test_what_is_not_understood_is_said_and_the_boot_is_still_held(bench: Counter, boots: Pair) -> None:
    """A misread code says so; the boot scanned before stays on the page."""
    page = bench.get(f"/bench/stand?boot={boots.left}&scan=7K3M9QXWA").text

    assert "One character of this code is not as on the tag" in page
    assert f'name="boot" value="{boots.left}"' in page
    assert "Nothing open has the number 99" in bench.get("/bench/stand?scan=99").text


def test_a_tree_alone_says_what_is_on_it(bench: Counter, boots: Pair) -> None:
    """A free tree asks for its boot; a taken one says whose it holds."""
    assert "It is free" in bench.get("/bench/stand?scan=tree 4").text
    put_on(bench, boots.left, "4")
    assert "It holds 41 left" in bench.get("/bench/stand?scan=tree 4").text


def test_the_same_on_the_other_boot_is_one_tap(bench: Counter, store: Store, boots: Pair, clock: Clock) -> None:
    """Off the tree, one boot after the other: the page offers the other boot with the same time, and one form saves it."""
    put_on(bench, boots.left, "4")
    put_on(bench, boots.right, "5")
    clock.on(hours=5)
    bench.get("/bench")
    bench.post(f"/items/{boots.left}/take-off", submission_id=new_id(), happened="time", happened_time="2026-03-17T11:30")
    page = bench.get(f"/items/{boots.left}?did=take-off").text
    assert "Same on the right: take off the tree" in page

    typed = hidden(page[page.index("Same on the right") - 900 : page.index("Same on the right")])
    assert bench.post(f"/items/{boots.right}/take-off", **typed).status_code == 303
    assert {rounds.of_item(store, one)[0].off_at for one in (boots.left, boots.right)} == {"2026-03-17T15:30:00Z"}
    assert "Same on the" not in bench.get(f"/items/{boots.right}?did=take-off").text


def test_many_boots_come_off_one_after_another(bench: Counter, store: Store, boots: Pair, clock: Clock) -> None:
    """Each scan takes one off and the list grows; a boot that is not on a tree, and a tree, are said and nothing is saved."""
    put_on(bench, boots.left, "4")
    put_on(bench, boots.right, "5")
    clock.on(hours=1)
    bench.get("/bench/off")
    first = bench.post("/bench/off", submission_id=new_id(), scan=CODE)
    assert first.location.endswith(f"taken={boots.left}")
    second = bench.post("/bench/off", submission_id=new_id(), scan="41 R", taken=str(boots.left))
    assert second.status_code == 303
    assert {items.get(store, one).state for one in (boots.left, boots.right)} == {"resting"}

    page = bench.get(second.location).text
    assert page.count('class="row-n">41<') == 2
    for wrong, sentence in (("tree 4", "That is a tree"), ("41", "Which of the two"), ("41 L", "down as resting"), ("", "Scan a tag")):
        answer = bench.post("/bench/off", submission_id=new_id(), scan=wrong)
        assert answer.status_code == 422
        assert sentence in answer.text


# ---------------------------------------------------------------- the lists


def test_the_bench_shows_what_is_to_be_done_in_short_lists(bench: Counter, store: Store, boots: Pair, clock: Clock) -> None:
    """On its tree three hours: to be turned up. Its hold over: to come off. Rested: to be measured. The bag waits for the bench."""
    bag(store, boots.ticket_id)
    put_on(bench, boots.left, "4")
    assert listed(bench.get("/bench").text, "Later") == ["Left"]
    clock.on(hours=3)
    assert listed(bench.get("/bench").text, "Turn up") == ["Left"]
    clock.on(days=7)
    bench.get("/bench")
    page = bench.get("/bench").text
    assert listed(page, "Off the tree") == ["Left"]
    assert listed(page, "Waits for the bench") == ["Right", "Bag"]
    bench.post(f"/items/{boots.left}/take-off", submission_id=new_id())
    clock.on(days=1)
    bench.get("/bench")
    assert listed(bench.get("/bench").text, "To be measured again") == ["Left"]


def listed(page: str, title: str) -> list[str]:
    """The sides on one list of the page."""
    part = page[re.search(rf"<h2[^>]*>{title} ", page).start() :]  # type: ignore[union-attr]  # the list is there
    return re.findall(r'class="row-s">([^<]+)<', part[: part.index("</section>")])


# ---------------------------------------------------------------- which tree


def test_which_tree_says_for_each_what_it_would_do_or_why_not(bench: Counter, boots: Pair) -> None:
    """The left tree is offered, the right one has its one sentence."""
    page = bench.get(f"/bench/choice/{boots.left}").text

    assert "Put on tree 4" in page
    assert "Tree 5. It is made for right boots." in page


# ---------------------------------------------------------------- trees


def test_a_tree_is_added_measured_and_put_in_repair(bench: Counter, store: Store, boots: Pair) -> None:
    """From label, side and size; a girth of the bare tree; in repair and back; a tag to scan."""
    bench.get("/bench/trees")
    answer = bench.post("/bench/trees", submission_id=new_id(), label="K2", side="left", size="M")
    assert answer.status_code == 303
    found = trees.by_label(store, "K2")
    assert found is not None
    assert answer.location.endswith(f"/bench/trees/{found.id}")

    bench.get(answer.location)
    for girth, setting in (("13", "0"), ("15 1/2", "12")):
        path = f"/bench/trees/{found.id}/measure"
        assert bench.post(path, submission_id=new_id(), setting=setting, height="10 1/2", girth=girth).status_code == 303
    assert len(trees.calibration(store, found.id)) == 2

    for state in ("repair", "sound", "retired"):
        assert bench.post(f"/bench/trees/{found.id}/state", submission_id=new_id(), state=state).status_code == 303
        assert trees.get(store, found.id).state == state
    assert bench.post(f"/bench/trees/{found.id}/tag", submission_id=new_id()).status_code == 303
    code = store.value("SELECT code FROM tags WHERE tree_id = ?", found.id)
    assert f"/bench/trees/{found.id}" in bench.get(f"/T/{code}").location


@pytest.mark.parametrize(
    ("path", "typed", "sentence"),
    [
        ("/bench/trees", {"label": "", "side": "left"}, "Type what is written on the tree"),
        ("/bench/trees", {"label": "4", "side": "left"}, "a tree with that label already"),
        ("/bench/trees", {"label": "K2", "side": ""}, "Say which side it is for"),
        ("/bench/trees", {"label": "K2", "side": "left", "closed": "15", "open": "14 1/2"}, "Open it measures more than closed"),
        ("/bench/trees/1", {"label": "5", "side": "left"}, "a tree with that label already"),
        ("/bench/trees/1/measure", {"setting": "few", "height": "12", "girth": "14"}, "Type the setting as a figure"),
        ("/bench/trees/1/measure", {"setting": "0", "height": "12", "girth": "145/8"}, "The fraction is less than one"),
        ("/bench/away", {"from_day": "2026-04-10", "to_day": "2026-04-01"}, "comes before the first"),
        ("/bench/away", {"from_day": "soon", "to_day": ""}, "Type the day as year, month, day"),
        ("/bench/slots", {"words": "", "sides": "pair", "first": "2026-04-10", "goes": "2"}, "Say in a word whose boots"),
        ("/bench/slots", {"words": "Hale", "sides": "pair", "first": "2026-01-10", "goes": "2"}, "That day is over"),
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
        "/bench/trees/1/measure", "/bench/trees/1/state", "/bench/trees/1/tag", "/bench/trees/1/readings/1/strike", "/bench/away",
        "/bench/away/1/strike", "/bench/slots", "/bench/slots/1/strike", "/bench/hold/1",
    ],
)  # fmt: skip
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
        ("/bench/trees/1/measure", {"setting": "0", "height": "12", "girth": "14"}, "tree_calibration"),
        ("/bench/away", {"from_day": "2026-08-10", "to_day": "2026-08-12"}, "closures"),
        ("/bench/slots", {"words": "Hale", "sides": "left", "first": "2026-06-01", "goes": "1"}, "bookings WHERE kind = 'slot'"),
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


# ---------------------------------------------------------------- the plan


def test_the_plan_page_says_each_boots_days_and_draws_the_trees(bench: Counter, store: Store, boots: Pair) -> None:
    """Before it was kept the page says so; afterwards every boot has its days in words and its bars in the drawing."""
    assert "Something changed since this was planned" in bench.get("/bench/plan").text
    assert bench.post("/bench/plan", submission_id=new_id()).status_code == 303

    page = bench.get("/bench/plan").text
    assert "Something changed" not in page
    assert page.count("put on 4") + page.count("put on 5") == len(plans.bookings(store))
    assert len(re.findall(r'class="t-planned"', page)) == len(plans.bookings(store))
    assert "Every pair is ready on its day" in page


def test_late_and_why(bench: Counter, store: Store, boots: Pair) -> None:
    """A promise that cannot be kept is listed with the days and the reason, and what would help on asking."""
    with store.write_tx():
        store.db.execute("UPDATE tickets SET promise_day = '2026-03-28'")
    page = bench.get("/bench/plan").text
    assert re.search(r"Promised Saturday 28 March, ready \w+ \d+ \w+: it still has \d goes? on the tree ahead", page)

    helped = bench.get("/bench/plan?ask=1").text
    assert "instead, saves" in helped


def test_who_becomes_late_is_counted_at_agreeing_and_named_at_the_bench(
    bench: Counter, counter: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """A pair that must go first takes the only trees: the counter's page says how many, the bench's says whose and by how much."""
    bench.get("/bench/plan")
    assert bench.post("/bench/plan", submission_id=new_id()).status_code == 303
    ready = store.value("SELECT max(ready_day) FROM bench_days")
    new = pair(store, Act(clock.now), 42, "counter", "Tobias Renwick")
    with store.write_tx():
        store.db.execute("UPDATE tickets SET promise_day = date(?, '+1 day') WHERE id = ?", [ready, boots.ticket_id])
        store.db.execute("UPDATE items SET promised_day = ? WHERE ticket_id = ?", [ready, new.ticket_id])
    for page in (f"/fits/{new.fit_id}/verdict", f"/tickets/{new.ticket_id}/agree"):
        shown = counter.get(page).text
        assert "One other pair becomes late by this" in shown, page
        assert "Okafor-Lind" not in shown, page

    page = bench.get(f"/bench/plan?pair={new.fit_id}").text
    assert "With Tobias Renwick agreed, these become late" in page
    assert re.search(r"these become late .{1,400}<strong>Marisol Okafor-Lind</strong><span>promised .{10,40}, would be ready ", page, re.DOTALL)
    with store.write_tx():
        store.db.execute("UPDATE tickets SET promise_day = '2026-09-01' WHERE id = ?", [boots.ticket_id])
    assert "becomes late by this" not in counter.get(f"/fits/{new.fit_id}/verdict").text
    assert "Nobody becomes late by it." in bench.get(f"/bench/plan?pair={new.fit_id}").text
    assert bench.get("/bench/plan?pair=999").status_code == 404


def test_a_promised_day_that_would_move_is_asked_before_it_is_saved(bench: Counter, store: Store, boots: Pair) -> None:
    """Away over the only time there is: the question names the pair; the same form with the answer saves it."""
    with store.write_tx():
        store.db.execute("UPDATE tickets SET promise_day = '2026-04-18'")
    bench.get("/bench/plan")
    answer = bench.post("/bench/away", submission_id=new_id(), from_day="2026-03-18", to_day="2026-04-10", why="fair")
    assert answer.status_code == 422
    assert "41 Marisol Okafor-Lind" in answer.text
    assert plans.closures(store) == []

    typed = hidden(answer.text)
    assert typed["why"] == "fair"
    assert bench.post("/bench/away", **typed, confirmed="1").status_code == 303
    assert [(one.from_day, one.to_day) for one in plans.closures(store)] == [("2026-03-18", "2026-04-10")]


def test_past_a_limit_asks_with_reasons_and_keeps_the_one_picked(bench: Counter, store: Store, boots: Pair) -> None:
    """The page shows the number and the short list; nothing is saved until one is picked."""
    bench.get(f"/items/{boots.left}")
    typed = {"tree": "4", "before": "14 3/8", "on_tree": "15 3/8"}
    answer = bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 422
    assert "at most" in answer.text
    assert "The master has looked at it" in answer.text

    again = hidden(answer.text)
    assert again["on_tree"] == "15 3/8"
    assert bench.post(f"/items/{boots.left}/put-on", **again, override_why="master-looked").status_code == 303
    assert rounds.of_item(store, boots.left)[0].override_why == "master-looked"
    assert "past the limit" in bench.get(f"/items/{boots.left}").text


def test_after_a_rested_reading_the_page_says_what_was_kept_and_what_it_means(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Kept so much of so much, what was guessed, how much is still to find, and the chart of the rounds."""
    put_on(bench, boots.left, "4")
    clock.on(days=7)
    bench.get("/bench")
    bench.post(f"/items/{boots.left}/take-off", submission_id=new_id())
    clock.on(hours=25)
    bench.get("/bench")
    bench.post(f"/items/{boots.left}/measure-again", submission_id=new_id(), rested="14 11/16")

    page = bench.get(f"/items/{boots.left}").text
    assert re.search(r"Kept .{1,80} of ⅝.in; you’d guessed about a third; .{1,80} still to find", page)
    assert "Girth, round by round" in page
    assert "Another go on the tree" in page


def test_a_dead_tag_says_where_it_went(bench: Counter, store: Store, boots: Pair) -> None:
    """The old code opens nothing; it names the tag that took its place and leads to the boot."""
    with store.write_tx():
        fresh = store.insert("tags", code="AAAAAAAA0", number=41, side="left", item_id=boots.left, printed_at="2026-03-17T14:00:00Z")
        store.db.execute("UPDATE tags SET died_at = '2026-03-17T15:00:00Z', replaced_by = ? WHERE code = ?", [fresh, CODE])
    answer = bench.get(f"/T/{CODE}")

    assert answer.status_code == 410
    assert "AAAA-AAAA-0" in answer.text
    assert f"/items/{boots.left}" in answer.text


def test_a_finding_at_the_bench_is_kept_with_its_place(bench: Counter, store: Store, boots: Pair) -> None:
    """What the bench saw stands on the page in words; damage stops the boot."""
    bench.get(f"/items/{boots.left}?do=finding")
    assert bench.post(f"/items/{boots.left}/finding", submission_id=new_id(), word="scuffs", place="toe").status_code == 303
    assert "Scuffs or marks" in bench.get(f"/items/{boots.left}").text
    assert bench.post(f"/items/{boots.left}/finding", submission_id=new_id(), word="").status_code == 422
    assert bench.post(f"/items/{boots.left}/finding", submission_id=new_id(), word="zip-gaping").status_code == 303
    assert items.get(store, boots.left).state == "stopped"


# ---------------------------------------------------------------- papers


def test_the_benchs_papers_say_what_the_screens_say(bench: Counter, store: Store, boots: Pair) -> None:
    """Card, wall strip and tree tags come as PDFs whose words are read back: number, sides, opening, trees and their codes."""
    pytest.importorskip("weasyprint")
    assert bench.get("/bench/wall.pdf").status_code == 404
    bench.post("/bench/plan", submission_id=new_id())
    bench.get("/bench/trees")
    assert bench.post("/bench/trees/tags", submission_id=new_id()).status_code == 303

    card = words(bench.get(f"/tickets/{boots.ticket_id}/bench-card.pdf").data)
    assert "Okafor-Lind" in card
    assert "one round may open it at most" in card
    assert card.count("on tree") >= 2
    wall, labels = (words(bench.get(path).data) for path in ("/bench/wall.pdf", "/bench/trees/tags.pdf"))
    for code in (row["code"] for row in store.rows("SELECT code FROM tags WHERE tree_id IS NOT NULL")):
        shown = f"{code[:4]}-{code[4:8]}-{code[8:]}"
        assert shown in wall
        assert shown in labels.replace("- ", "-")


def words(pdf: bytes) -> str:
    """The text of a PDF on one line."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())


# ---------------------------------------------------------------- something went wrong


def test_what_went_wrong_is_told_agreed_and_settled(bench: Counter, counter: Counter, store: Store, boots: Pair) -> None:
    """The record shows what was seen before and since; what is agreed is kept; a page that was open meanwhile is told."""
    with store.write_tx():
        row = {"item_id": boots.left, "moment": "before", "word": "scuffs", "place": "toe", "seen_at": "2026-03-17T14:00:00Z"}
        store.insert("findings", **row)
    put_on(bench, boots.left, "4")
    bench.post(f"/items/{boots.left}/finding", submission_id=new_id(), word="grain-whitening", place="inner calf")
    incident_id = store.value("SELECT id FROM incidents")
    page = counter.get(f"/incidents/{incident_id}").text
    assert page.index("Scuffs or marks") < page.index("Since then") < page.rindex("The grain whitens, inner calf")

    typed = {"version": "1", "told": "y", "agreed": "a new pair of tops at our cost"}
    assert counter.post(f"/incidents/{incident_id}", submission_id=new_id(), **typed).status_code == 303
    row = store.rows("SELECT told_at, agreed, settled_at FROM incidents")[0]
    assert (row["told_at"] is not None, row["agreed"], row["settled_at"]) == (True, "a new pair of tops at our cost", None)
    again = bench.post(f"/incidents/{incident_id}", submission_id=new_id(), version="1", agreed="nothing")
    assert again.status_code == 409
    assert "nothing" in again.text
    assert "the customer is told" in bench.get(f"/items/{boots.left}").text
    assert bench.get("/incidents/99").status_code == 404
