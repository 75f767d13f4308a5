"""A shop's paper jobs put in as a list: shown first, kept whole for correction, all or nothing, and
then findable.
"""

from __future__ import annotations

import re
from html import unescape
from io import BytesIO

import pytest
from support.cast import Counter
from support.counter_forms import errors, fresh
from support.paper_list import GOOD, HEAD, count

from fitcounter.store import items, tickets
from fitcounter.store.database import Store


@pytest.fixture(autouse=True)
def trees(store: Store) -> None:
    with store.write_tx():
        for label, side in (("4", "left"), ("9", "right"), ("7", "either")):
            store.insert("trees", label=label, side=side, size="M")


def show(counter: Counter, lines: str, **more: object):
    counter.get("/already/list")
    return counter.post("/already/list", submission_id=fresh(), lines=lines, **more)


def put_in(counter: Counter, lines: str, submission_id: str = ""):
    counter.get("/already/list")
    return counter.post("/already/list/put-in", submission_id=submission_id or fresh(), lines=lines)


def test_a_good_list_is_shown_as_it_was_understood_and_nothing_is_stored(
    counter: Counter, store: Store
):
    page = show(counter, GOOD)
    assert page.status_code == 200
    for words in (
        "both boots to stretch; bag: new zip",
        "on trees 4 and 9",
        "ready, shelf C2",
        "Add 3 jobs",
    ):
        assert words in page.text
    assert count(store) == 0


def test_accepted_the_jobs_are_here_where_the_paper_says_and_found_by_number_and_name(
    counter: Counter, store: Store
):
    assert put_in(counter, GOOD).headers["Location"] == "/"
    job = tickets.open_by_number(store, 41)
    assert job is not None
    assert job.promise_day == "2026-03-27"
    assert [(one.kind, one.side, one.state) for one in items.of_ticket(store, job.id)] == [
        ("boot", "left", "on-tree"),
        ("boot", "right", "on-tree"),
        ("bag", None, "queued"),
    ]
    assert (
        store.value("SELECT count(*) FROM rounds WHERE tree_id IS NOT NULL AND before_um IS NULL")
        == 2
    )
    assert "left boot: ready, shelf C2" in counter.get("/find?q=42").text
    for typed in ("41", "okafor", "okfaor", "0142"):
        assert "Marisol Okafor" in counter.get(f"/find?q={typed}").text
    assert "belt and glove: waiting for the bench" in counter.get("/find?q=ines").text
    assert store.value("SELECT count(*) FROM items i JOIN tags t ON t.item_id = i.id") == 6


def test_sent_twice_the_list_is_in_once(counter: Counter, store: Store):
    same = fresh()
    assert [put_in(counter, GOOD, same).status_code for _ in range(2)] == [303, 303]
    assert store.value("SELECT count(*) FROM tickets") == 3


WRONG = [
    ("x,Ada,,boots,,", "Type a number from"),
    ("1000,Ada,,boots,,", "from 1 to 999"),
    ("5,,,boots,,", "Type a name"),
    ("5,Ada,call me,boots,,", "phone number, like"),
    ("5,Ada,,,,", "Type what is here"),
    ("5,Ada,,: new zip,,", "Type the item before its work"),
    ("5,Ada,,boots + left boot,,", "one pair to stretch"),
    ("5,Ada,,boots,the moon,", "Type where"),
    ("5,Ada,,boots,tree 4,", "Type both trees"),
    ("5,Ada,,bag,tree 4,", "Only boots go on a tree"),
    ("5,Ada,,boots,tree 4 and 77,", "No tree has that label"),
    ("5,Ada,,boots,tree 9 and 4,", "Tree 9 is for right boots"),
    ("5,Ada,,boots,,soon", "year-month-day"),
    ("5,Ada,,boots,,2126-01-01", "two years away"),
    ("5,Ada,,boots,,,,extra", "more cells than columns"),
]


@pytest.mark.parametrize(("line", "sentence"), WRONG)
def test_each_bad_line_has_one_sentence_and_the_whole_list_stays(
    counter: Counter, store: Store, line: str, sentence: str
):
    lines = f"{HEAD}3,Bea,,boots,bench,\n{line}\n"
    for page in (show(counter, lines), put_in(counter, lines)):
        assert page.status_code == 422
        assert f"Line 3{', Ada' if ',Ada,' in line else ''}: " in page.text
        assert sentence in unescape(page.text)
        assert lines in unescape(page.text)
        assert "Add 1 job" not in page.text
    assert count(store) == 0


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        ("", "The list is empty"),
        (HEAD, "Only the column names"),
        ("41,Ada,,boots\n", "name the columns"),
        (HEAD + '5,"Ada,,boots\n', "quotation mark"),
        ("name,what,colour\nAda,boots,red\n", "No column is called “colour”"),
        ("name,what,name\nAda,boots,x\n", "same name"),
        (HEAD + "1,Ada,,boots,,\n" * 401, "over 400 jobs"),
        (HEAD + "x" * 130_000, "120,000 characters"),
    ],
)
def test_a_list_that_cannot_be_read_says_why_and_stays(
    counter: Counter, store: Store, lines: str, sentence: str
):
    page = show(counter, lines)
    assert page.status_code == 422
    assert sentence in " ".join(errors(page))
    assert lines.strip()[:200] in unescape(page.text)
    assert count(store) == 0


def test_a_number_stands_once_in_the_list_and_once_in_the_shop(counter: Counter, store: Store):
    assert (
        "Number 5 is on line 2 too" in show(counter, f"{HEAD}5,Ada,,boots,,\n5,Bea,,boots,,\n").text
    )
    put_in(counter, f"{HEAD}5,Ada,,boots,,\n")
    page = show(counter, f"{HEAD}5,Bea,,boots,,\n")
    assert page.status_code == 422
    assert "Ticket 5 is already open" in page.text


def test_two_jobs_on_one_tree_are_said_before_anything_is_stored(counter: Counter, store: Store):
    page = show(counter, f"{HEAD}5,Ada,,left boot,tree 7,\n6,Bea,,right boot,tree 7,\n")
    assert "Line 3, Bea: Another boot is saved on tree 7" in page.text
    assert count(store) == 0


def test_numbers_of_the_paper_are_kept_whatever_stands_before_them(counter: Counter, store: Store):
    put_in(counter, f"{HEAD},Ada,,boots,,\n,Bea,,boots,,\n1,Cyd,,boots,,\n2,Dee,,boots,,\n")
    assert (
        store.value(
            "SELECT group_concat(number || ' ' || name, ', ') FROM (SELECT number, name FROM"
            " tickets t JOIN customers c ON c.id = customer_id ORDER BY 1)"
        )
        == "1 Cyd, 2 Dee, 3 Ada, 4 Bea"
    )


@pytest.mark.parametrize(
    "name",
    [
        "=HYPERLINK(1)",
        "'=1+1",
        "<script>alert(1)</script>",
        "Robert'); DROP TABLE items;--",
        "a\u202eb",
        "{{ 7 * 7 }}",
    ],
)
def test_a_hostile_cell_is_kept_as_text_and_does_nothing(counter: Counter, store: Store, name: str):
    lines = f'{HEAD}8,"{name}",,boots,,\n'
    assert "<script>alert" not in show(counter, lines).text
    assert put_in(counter, lines).status_code == 303
    kept = store.value("SELECT name FROM customers")
    assert kept == name.removeprefix("'").replace("\u202e", "")
    assert "<script>alert" not in counter.get("/find?q=8").text


def test_a_null_byte_and_a_picture_are_refused_with_a_sentence(counter: Counter, store: Store):
    for content in (b"number,name\x00", b"\x89PNG\r\n\x1a\n\x00\x00"):
        page = show(counter, "", file=(BytesIO(content), "jobs.csv"))
        assert page.status_code == 422
        assert "not plain text" in page.text
    assert count(store) == 0


@pytest.mark.parametrize(
    "content",
    [
        GOOD.replace(",", ";").encode("utf-8-sig"),
        GOOD.replace(",", "\t").encode(),
        GOOD.replace("\n", "\r\n").encode("cp1252"),
        "what,name\nboots,Zoë Brontë\n".encode("cp1252"),
    ],
)
def test_a_file_as_spreadsheets_write_it_is_read_and_stands_in_the_page(
    counter: Counter, content: bytes
):
    page = show(counter, "", file=(BytesIO(content), "jobs.csv"))
    assert page.status_code == 200, errors(page)
    assert re.search(r"<span>Add [13] jobs?</span>", page.text)


def test_a_day_as_the_country_writes_it_is_shown_in_words(counter: Counter):
    assert "April 3" in show(counter, f"{HEAD}5,Ada,,boots,,4/3/26\n").text


def test_somebody_the_shop_knows_by_number_and_name_is_not_made_twice(
    counter: Counter, store: Store
):
    put_in(
        counter,
        f"{HEAD}5,Ada,(412) 555-0142,boots,,\n6,Ada,412 555 0142,bag,,\n7,Bea,(412)"
        " 555-0142,bag,,\n",
    )
    assert store.value("SELECT count(*) FROM customers") == 2


def test_a_list_is_put_in_by_the_counter_alone(
    stranger: Counter, bench: Counter, counter: Counter, store: Store
):
    bench.get("/")
    assert bench.post("/already/list/put-in", submission_id=fresh(), lines=GOOD).status_code == 403
    assert stranger.client.post("/already/list/put-in").status_code == 401
    assert counter.get("/already/list/put-in").status_code == 405
    assert count(store) == 0
