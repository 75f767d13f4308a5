"""A paper job put in as it stands, and nothing made up about it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.new_jobs import WHO, boots

from fitcounter.desk import shop
from fitcounter.desk.intake import half_done_paper_job
from fitcounter.desk.intake.half_done_paper_job import Already, Stands
from fitcounter.desk.intake.job_records import NewJob
from fitcounter.errors import BadInput
from fitcounter.store import bills, items, rounds, tags, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def tree(store: Store) -> int:
    with store.write_tx():
        return store.insert("trees", label="4", side="left")


def half_done(*stands: Stands) -> Already:
    return Already(NewJob(WHO, boots()), stands, date(2026, 4, 10), 9000, 4500)


def test_a_paper_job_stands_where_it_stood_and_nothing_is_made_up(
    store: Store, act: Act, tree: int, tmp_path: Path
):
    told = half_done(
        Stands("left", "on-tree", date(2026, 3, 14), "4"),
        Stands("right", "shelved", date(2026, 3, 15), shelf="C2"),
    )
    written = half_done_paper_job.put_in(store, act, shop.read(store), told, tmp_path)
    left, right = items.of_ticket(store, written.ticket_id or 0)
    assert (left.state, right.state, right.shelf) == ("on-tree", "shelved", "C2")
    assert [(step.step, step.recorded) for step in items.steps(store, right.id)] == [
        ("arrive", 1),
        ("catch-up", 0),
    ]
    (running,) = rounds.of_item(store, left.id)
    assert (running.tree_id, running.before_um, running.rested_um) == (tree, None, None)
    assert running.on_at == "2026-03-14T16:00:00Z"  # noon in New York
    assert rounds.turns(store, running.id) == []
    assert (
        store.value("SELECT count(*) FROM bookings WHERE tree_id = ? AND kind = 'running'", tree)
        == 1
    )
    assert tags.of_item(store, left.id) is not None
    ticket = tickets.get(store, written.ticket_id or 0)
    assert ticket.promise_day == "2026-04-10"
    assert [one.amount_minor for one in bills.lines(store, ticket.id)] == [9000]
    assert [one.amount_minor for one in bills.payments(store, ticket.id)] == [4500]


@pytest.mark.parametrize(
    ("left", "field", "says"),
    [
        (Stands("left", "on-tree", date(2026, 3, 14)), "tree_left", "tree’s label"),
        (
            Stands("left", "on-tree", date(2026, 3, 14), "nine"),
            "tree_left",
            "No tree has that label",
        ),
    ],
)
def test_a_tree_that_is_not_there_is_asked_for_and_nothing_is_kept(
    store: Store, act: Act, tmp_path: Path, left: Stands, field: str, says: str
):
    with pytest.raises(BadInput, match=says) as refused:
        half_done_paper_job.put_in(
            store,
            act,
            shop.read(store),
            half_done(left, Stands("right", "queued", date(2026, 3, 14))),
            tmp_path,
        )
    assert refused.value.field == field
    assert store.value("SELECT count(*) FROM tickets") == 0
    assert store.value("SELECT count(*) FROM customers") == 0


def test_a_tree_holds_one_boot_and_only_of_its_own_side(
    store: Store, act: Act, tree: int, tmp_path: Path
):
    here = shop.read(store)
    on_tree_4 = half_done(
        Stands("left", "on-tree", date(2026, 3, 14), "4"),
        Stands("right", "queued", date(2026, 3, 14)),
    )
    half_done_paper_job.put_in(
        store,
        act,
        here,
        on_tree_4,
        tmp_path,
    )
    with pytest.raises(BadInput, match="Another boot is saved"):
        half_done_paper_job.put_in(
            store,
            act,
            here,
            on_tree_4,
            tmp_path,
        )
    with pytest.raises(BadInput, match="for left boots"):
        half_done_paper_job.put_in(
            store,
            act,
            here,
            half_done(
                Stands("left", "queued", date(2026, 3, 14)),
                Stands("right", "on-tree", date(2026, 3, 14), "4"),
            ),
            tmp_path,
        )
    assert store.value("SELECT count(*) FROM tickets") == 1
