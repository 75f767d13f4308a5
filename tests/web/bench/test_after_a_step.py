"""At the bench after a step: limits, what was kept, tags that died, findings, papers, and what went
wrong.
"""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pypdf import PdfReader
from support.bench_cast import TAG, Pair, hidden, new_id, put_on, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store import items, rounds
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


def test_past_a_limit_asks_with_reasons_and_keeps_the_one_picked(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """The page shows the number and the short list; nothing is saved until one is picked."""
    bench.get(f"/items/{boots.left}")
    typed = {"tree": "4", "before": "14 3/8", "on_tree": "15 3/8"}
    answer = bench.post(f"/items/{boots.left}/put-on", submission_id=new_id(), **typed)
    assert answer.status_code == 422
    assert "one round may open" in answer.text
    assert "The owner approved" in answer.text

    again = hidden(answer.text)
    assert again["on_tree"] == "15 3/8"
    assert (
        bench.post(f"/items/{boots.left}/put-on", **again, override_why="master-looked").status_code
        == 303
    )
    assert rounds.of_item(store, boots.left)[0].override_why == "master-looked"
    assert "past the limit" in bench.get(f"/items/{boots.left}").text


def test_after_a_rested_reading_the_page_says_what_was_kept_and_what_it_means(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Kept so much of so much, what was guessed, how much is still to find, and the chart of the
    rounds.
    """
    put_on(bench, boots.left, "4")
    clock.on(days=7)
    bench.get("/bench")
    bench.post(f"/items/{boots.left}/take-off", submission_id=new_id())
    clock.on(hours=25)
    bench.get("/bench")
    bench.post(f"/items/{boots.left}/measure-again", submission_id=new_id(), rested="14 11/16")

    page = bench.get(f"/items/{boots.left}").text
    assert re.search(r"Kept .{1,80} of ⅝.in \(estimate: about a third\)\. .{1,80} short", page)
    assert "Girth, round by round" in page
    assert "Do another round" in page


def test_a_dead_tag_says_where_it_went(bench: Counter, store: Store, boots: Pair) -> None:
    """The old code opens nothing; it names the tag that took its place and leads to the boot."""
    with store.write_tx():
        fresh = store.insert(
            "tags",
            code="AAAAAAAA0",
            number=41,
            side="left",
            item_id=boots.left,
            printed_at="2026-03-17T14:00:00Z",
        )
        store.db.execute(
            "UPDATE tags SET died_at = '2026-03-17T15:00:00Z', replaced_by = ? WHERE code = ?",
            [fresh, TAG],
        )
    answer = bench.get(f"/T/{TAG}")

    assert answer.status_code == 410
    assert "AAAA-AAAA-0" in answer.text
    assert f"/items/{boots.left}" in answer.text


def test_a_finding_at_the_bench_is_kept_with_its_place(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """What the bench saw stands on the page in words; damage stops the boot."""
    bench.get(f"/items/{boots.left}?do=finding")
    assert (
        bench.post(
            f"/items/{boots.left}/finding", submission_id=new_id(), word="scuffs", place="toe"
        ).status_code
        == 303
    )
    assert "Scuffs or marks" in bench.get(f"/items/{boots.left}").text
    assert (
        bench.post(f"/items/{boots.left}/finding", submission_id=new_id(), word="").status_code
        == 422
    )
    assert (
        bench.post(
            f"/items/{boots.left}/finding", submission_id=new_id(), word="zip-gaping"
        ).status_code
        == 303
    )
    assert items.get(store, boots.left).state == "stopped"


def test_the_benchs_papers_say_what_the_screens_say(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Card, wall strip and tree tags come as PDFs whose words are read back: number, sides,
    opening, trees and their codes.
    """
    pytest.importorskip("weasyprint")
    assert bench.get("/bench/wall.pdf").status_code == 404
    bench.post("/bench/plan", submission_id=new_id())
    bench.get("/bench/trees")
    assert bench.post("/bench/trees/tags", submission_id=new_id()).status_code == 303

    card = words(bench.get(f"/tickets/{boots.ticket_id}/bench-card.pdf").data)
    assert "Okafor-Lind" in card
    assert "one round may open the boot at most" in card
    assert card.count("on tree") >= 2
    wall, labels = (
        words(bench.get(path).data) for path in ("/bench/wall.pdf", "/bench/trees/tags.pdf")
    )
    for code in (
        row["code"] for row in store.rows("SELECT code FROM tags WHERE tree_id IS NOT NULL")
    ):
        shown = f"{code[:4]}-{code[4:8]}-{code[8:]}"
        assert shown in wall
        assert shown in labels.replace("- ", "-")


def words(pdf: bytes) -> str:
    """The text of a PDF on one line."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())


def test_what_went_wrong_is_told_agreed_and_settled(
    bench: Counter, counter: Counter, store: Store, boots: Pair
) -> None:
    """The record shows what was seen before and since; what is agreed is kept; a page that was open
    meanwhile is told.
    """
    with store.write_tx():
        row = {
            "item_id": boots.left,
            "moment": "before",
            "word": "scuffs",
            "place": "toe",
            "seen_at": "2026-03-17T14:00:00Z",
        }
        store.insert("findings", **row)
    put_on(bench, boots.left, "4")
    bench.post(
        f"/items/{boots.left}/finding",
        submission_id=new_id(),
        word="grain-whitening",
        place="inner calf",
    )
    incident_id = store.value("SELECT id FROM incidents")
    page = counter.get(f"/incidents/{incident_id}").text
    assert (
        page.index("Scuffs or marks")
        < page.index("Since then")
        < page.rindex("Grain turning white, inner calf")
    )

    typed = {"version": "1", "told": "y", "agreed": "a new pair of tops at our cost"}
    assert (
        counter.post(f"/incidents/{incident_id}", submission_id=new_id(), **typed).status_code
        == 303
    )
    row = store.rows("SELECT told_at, agreed, settled_at FROM incidents")[0]
    assert (row["told_at"] is not None, row["agreed"], row["settled_at"]) == (
        True,
        "a new pair of tops at our cost",
        None,
    )
    again = bench.post(
        f"/incidents/{incident_id}", submission_id=new_id(), version="1", agreed="nothing"
    )
    assert again.status_code == 409
    assert "nothing" in again.text
    assert "customer told, not settled yet" in bench.get(f"/items/{boots.left}").text
    assert bench.get("/incidents/99").status_code == 404
