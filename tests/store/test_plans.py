"""Claims on trees: two never overlap on one tree, whoever races for it."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.errors import Conflict
from fitcounter.store import plans
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.opening import open_store
from fitcounter.store.plans import Claim


def claim(store: Store, tree_id: int, item_id: int, first: str, until: str) -> None:
    store.insert(
        "bookings",
        tree_id=tree_id,
        item_id=item_id,
        kind="planned",
        round_n=1,
        from_day=first,
        to_day=until,
    )


@pytest.mark.parametrize(
    ("first", "until", "refused"),
    [
        ("2026-04-01", "2026-04-08", True),
        ("2026-04-07", "2026-04-20", True),
        ("2026-03-20", "2026-04-02", True),
        ("2026-04-02", "2026-04-03", True),
        ("2026-04-08", "2026-04-15", False),
        ("2026-03-20", "2026-04-01", False),
    ],
)
def test_a_tree_is_claimed_once_a_day(
    store: Store, clock: Clock, first: str, until: str, refused: bool
) -> None:
    """Claims that share a day are refused by the database itself; one may begin on the day the
    other ends.
    """
    boots, tree_id = pair(store, Act(clock.now)), tree(store, "4")
    with store.write_tx():
        claim(store, tree_id, boots.left, "2026-04-01", "2026-04-08")

    if refused:
        with pytest.raises(Conflict, match="booked"), store.write_tx():
            claim(store, tree_id, boots.right, first, until)
    else:
        with store.write_tx():
            claim(store, tree_id, boots.right, first, until)
    assert store.value("SELECT count(*) FROM bookings") == (1 if refused else 2)


def test_moving_a_claim_onto_another_is_refused_too(store: Store, clock: Clock) -> None:
    """An update cannot make two claims overlap either."""
    boots, tree_id = pair(store, Act(clock.now)), tree(store, "4")
    with store.write_tx():
        claim(store, tree_id, boots.left, "2026-04-01", "2026-04-08")
        claim(store, tree_id, boots.right, "2026-04-08", "2026-04-15")

    with pytest.raises(Conflict, match="booked"), store.write_tx():
        store.db.execute(
            "UPDATE bookings SET from_day = '2026-04-07' WHERE item_id = ?", [boots.right]
        )


def test_of_two_who_race_for_a_tree_one_wins(store: Store, tmp_path: Path, clock: Clock) -> None:
    """Two counters book the same tree at the same moment, thirty times over, each on its own
    connection: one wins each time.
    """
    boots, tree_id = pair(store, Act(clock.now)), tree(store, "4")
    lost: list[str] = []
    won: list[int] = []
    start = threading.Barrier(2)

    def book(item_id: int) -> None:
        mine = open_store(tmp_path / "shop.db")
        mine.follow_ups = ()  # these bookings are of no plan: planning anew would take them out
        for month in range(1, 13):
            for day in ("03", "12", "21"):
                first, until = f"2027-{month:02}-{day}", f"2027-{month:02}-{int(day) + 7:02}"
                start.wait()

                def write(first: str = first, until: str = until) -> Written:
                    claim(mine, tree_id, item_id, first, until)
                    return Written(item_id=item_id)

                try:
                    mine.once(Act(clock.now), "booked", write)
                    won.append(item_id)
                except Conflict as error:
                    lost.append(error.sentence)
        mine.close()

    racers = [
        threading.Thread(target=book, args=(item_id,)) for item_id in (boots.left, boots.right)
    ]
    for racer in racers:
        racer.start()
    for racer in racers:
        racer.join()

    assert (len(won), len(lost)) == (36, 36)
    assert all("booked" in sentence for sentence in lost)
    assert store.value("SELECT count(*) FROM bookings") == 36


def test_a_new_plan_takes_the_place_of_the_old_one_whole_or_not_at_all(
    store: Store, clock: Clock
) -> None:
    """A plan with two claims on one tree is refused, and the old plan still stands; running claims
    are never touched.
    """
    boots, tree_id = pair(store, Act(clock.now)), tree(store, "4")
    with store.write_tx():
        plans.set_running(store, boots.left, 1, tree_id, "2026-03-17", "2026-03-24")
        plans.replace_planned(store, [Claim(tree_id, boots.right, 1, "2026-04-01", "2026-04-08")])

    twice = [
        Claim(tree_id, boots.left, 2, "2026-05-01", "2026-05-08"),
        Claim(tree_id, boots.right, 1, "2026-05-07", "2026-05-14"),
    ]
    with pytest.raises(Conflict), store.write_tx():
        plans.replace_planned(store, twice)
    assert [(one.kind, one.from_day) for one in plans.bookings(store)] == [
        ("running", "2026-03-17"),
        ("planned", "2026-04-01"),
    ]

    with store.write_tx():
        plans.replace_planned(store, twice[:1])
    assert [(one.kind, one.from_day) for one in plans.bookings(store)] == [
        ("running", "2026-03-17"),
        ("planned", "2026-05-01"),
    ]
