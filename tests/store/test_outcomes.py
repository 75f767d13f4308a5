"""What became of the work: what the book, the guarantee and the estimates are made from."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from support.bench_cast import tree
from support.ticket_rows import Job

from fitcounter.store import outcomes, tickets
from fitcounter.store.database import Act, Store

ON, OFF = "2026-03-17T14:00:00Z", "2026-03-19T14:00:00Z"


def round_of(store: Store, item_id: int, n: int = 1, **columns: object) -> int:
    row = {"on_at": ON, "off_at": OFF, **columns}
    with store.write_tx():
        return store.insert("rounds", item_id=item_id, n=n, **row)


def say(store: Store, act: Act, item_id: int, likely: int | None) -> None:
    with store.write_tx():
        outcomes.add_prediction(
            store, act, item_id, {"tier": "usual", "likely": likely}, None, None
        )


def test_a_round_that_is_over_teaches_with_the_girth_of_its_last_turn(store: Store, job: Job):
    over = round_of(store, job.left, rested_um=365_000)
    round_of(store, job.left, 2, off_at=None)
    round_of(store, job.right, on_at=None, off_at=None)
    with store.write_tx():
        for n, girth_um in ((1, 370_000), (2, 374_000), (3, None)):
            store.insert(
                "turns", round_id=over, n=n, at=f"2026-03-17T1{n}:00:00Z", girth_um=girth_um
            )
    (learnt,) = outcomes.learnt_rounds(store)
    assert (learnt.item_id, learnt.n, learnt.on_tree_um) == (job.left, 1, 374_000)
    assert learnt.held_from == "2026-03-17T13:00:00Z"


def test_the_stamp_of_the_rounds_changes_with_every_rested_reading(store: Store, job: Job):
    stamps = [outcomes.rounds_stamp(store)]
    round_id = round_of(store, job.left)
    assert outcomes.rounds_stamp(store) == stamps[0]
    for rested_um in (365_000, 366_000, None):
        with store.write_tx():
            store.change("rounds", round_id, rested_um=rested_um)
        stamps.append(outcomes.rounds_stamp(store))
    assert stamps[3] == stamps[0]
    assert len(set(stamps)) == 3
    with store.write_tx():
        store.change("rounds", round_id, rested_um=365_000, rested_counts=0)
    early = outcomes.rounds_stamp(store)
    with store.write_tx():  # measured again when it counts, and read the same
        store.change("rounds", round_id, rested_counts=1)
    assert outcomes.rounds_stamp(store) != early


@pytest.mark.parametrize(
    ("state", "outcome"),
    [("finished", "finished"), ("stopped", "stopped"), ("queued", "unfinished")],
)
def test_the_first_answer_stands_against_the_rounds_it_took(
    store: Store, act: Act, job: Job, state: str, outcome: str
):
    for likely in (2, 5):
        say(store, act, job.left, likely)
    say(store, act, job.right, 3)  # not begun: it says nothing yet
    for n in (1, 2):
        round_of(store, job.left, n)
    with store.write_tx():
        store.change("items", job.left, state=state)
    (boot,) = outcomes.said_and_took(store, 1)
    assert (boot.item_id, boot.likely, boot.rounds) == (job.left, 2, 2)
    assert boot.outcome == outcome
    assert outcomes.said_and_took(store, job.left + 1) == []


def test_the_latest_answer_comes_with_the_whole_of_it(store: Store, act: Act, job: Job):
    assert outcomes.latest_prediction(store, job.left) is None
    for likely in (2, 5):
        say(store, act, job.left, likely)
    latest = outcomes.latest_prediction(store, job.left)
    assert latest is not None
    assert (latest["likely"], latest["assessment"]) == (5, {"tier": "usual", "likely": 5})


def test_a_tree_counts_its_days_on_a_boot_from_the_instant_asked_for(store: Store, job: Job):
    tree_id = tree(store, "4")
    tree(store, "5", "right")
    round_of(store, job.left, tree_id=tree_id)
    assert outcomes.tree_days(store, "2026-03-01") == {"4": pytest.approx(2), "5": 0}
    half = outcomes.tree_days(store, "2026-03-18T14:00:00Z")
    assert half["4"] == pytest.approx(1)


def test_a_guarantee_ends_on_its_day_and_is_over_after_it(store: Store, job: Job):
    day = "2026-06-17"
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="out", guarantee_end=day, handed_over_at=OFF)
    ending = outcomes.guarantees_ending(store, "2026-06-01", day)
    assert [(one["number"], one["name"]) for one in ending] == [(1, "Marisol Okafor-Lind")]
    assert outcomes.guarantees_ending(store, "2026-06-18", "2026-07-01") == []
    assert outcomes.guarantee_over(store, date(2026, 6, 16)) == []
    assert [one.id for one in outcomes.guarantee_over(store, date(2026, 6, 17))] == [job.ticket_id]


def test_a_ticket_that_is_opened_again_takes_its_number(store: Store, job: Job):
    assert not outcomes.number_is_free(store, 1)
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="closed")
    assert outcomes.number_is_free(store, 1)
    with store.write_tx():
        outcomes.reopen(store, tickets.get(store, job.ticket_id), 7)
    again = tickets.get(store, job.ticket_id)
    assert (again.state, again.number) == ("open", 7)


def test_comebacks_come_newest_first_with_their_boot(store: Store, job: Job):
    with store.write_tx():
        for item_id, said in ((job.left, "tight"), (job.right, "loose")):
            at = datetime(2026, 5, 1, tzinfo=UTC)
            outcomes.add_comeback(store, job.ticket_id, item_id, at, said=said, under_guarantee=1)
    found = [(one.side, one.said) for one in outcomes.comebacks(store, 1)]
    assert found == [("right", "loose"), ("left", "tight")]
    assert [one.side for one in outcomes.comebacks(store, job.right)] == ["right"]
