"""Paper jobs as a list: rehearsed and taken back, then all of them or none."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.intake import paper_list
from fitcounter.desk.intake.paper_list_csv import CsvLine, read_list
from fitcounter.desk.shop import Shop
from fitcounter.store import items, lists, tickets
from fitcounter.store.database import Act, Store

HEAD = "number,name,phone,what,where\n"


def lines(store: Store, act: Act, choices: Shop, folder: Path, text: str) -> list[CsvLine]:
    """The list as it is understood, rehearsed."""
    read = read_list(HEAD + text, choices, date(2026, 3, 17))
    return paper_list.rehearse(store, act, choices, read, folder)


def test_a_rehearsal_says_what_the_shop_cannot_take_and_stores_nothing(
    store: Store, act: Act, choices: Shop, tmp_path: Path
) -> None:
    text = "41,Ann,,boots,bench\n42,Bea,,left boot,tree 4\n"
    good, wrong = lines(store, act, choices, tmp_path, text)
    assert (good.sentence, good.name) == ("", "Ann")
    assert "No tree has that label" in wrong.sentence
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_a_number_that_is_open_already_is_said_before_anything_is_stored(
    store: Store, act: Act, choices: Shop, tmp_path: Path
) -> None:
    number = tickets.get(store, make_job(store, act).ticket_id).number
    (taken,) = lines(store, act, choices, tmp_path, f"{number},Ann,,boots,bench\n")
    assert f"Ticket {number} is already open" in taken.sentence


def test_one_line_that_cannot_be_taken_keeps_all_of_them_out(
    store: Store, act: Act, choices: Shop, tmp_path: Path
) -> None:
    text = "41,Ann,,boots,bench\n42,Bea,,left boot,tree 4\n"
    read = read_list(HEAD + text, choices, date(2026, 3, 17))
    with pytest.raises(paper_list.BadList) as refused:
        paper_list.put_in(store, act, choices, read, tmp_path)
    assert [bool(line.sentence) for line in refused.value.lines] == [False, True]
    assert refused.value.sentence == "1 line is wrong, so nothing is saved."
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_all_jobs_are_here_where_the_paper_says_and_a_new_number_takes_nobodys(
    store: Store, act: Act, choices: Shop, tmp_path: Path
) -> None:
    text = ",Ann,,boots + bag: new zipper,shelf C2\n1,Bea,,left boot,resting\n"
    read = read_list(HEAD + text, choices, date(2026, 3, 17))
    assert paper_list.put_in(store, act, choices, read, tmp_path).row_id == 2
    bea = tickets.open_by_number(store, 1)
    assert bea is not None
    assert [item.state for item in items.of_ticket(store, bea.id)] == ["resting"]
    (ann,) = [one for one in lists.open_tickets(store) if one.id != bea.id]
    here = items.of_ticket(store, ann.id)
    assert {(item.kind, item.state, item.shelf) for item in here} == {
        ("boot", "shelved", "C2"),
        ("bag", "shelved", "C2"),
    }


def test_somebody_of_that_number_and_name_is_not_kept_twice(
    store: Store, act: Act, choices: Shop, tmp_path: Path
) -> None:
    text = (
        "41,Marisol Okafor-Lind,(412) 555-0142,boots,bench\n"
        "42,marisol okafor lind,(412) 555-0142,bag: strap,bench\n"
        "43,Bea,(412) 555-0142,bag: strap,bench\n"
    )
    read = read_list(HEAD + text, choices, date(2026, 3, 17))
    paper_list.put_in(store, act, choices, read, tmp_path)
    assert store.value("SELECT count(*) FROM customers") == 2
