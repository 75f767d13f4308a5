"""What the shop has learnt beside the kept fraction: nothing is told before ten cases."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from support.ticket_rows import Job, make_job

from fitcounter.desk.book.learnt_lines import learnt_lines
from fitcounter.desk.shop import Shop
from fitcounter.store import feelings
from fitcounter.store.database import Act, Store, utc_text

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
SHOP = Shop(unit="cm")
MARK_UM = 304_800


def round_of(store: Store, item_id: int, n: int, before_um: int, rested_um: int, **more: object):
    at = NOW + timedelta(days=10 * n)
    store.insert(
        "rounds",
        item_id=item_id,
        n=n,
        before_um=before_um,
        on_at=utc_text(at),
        off_at=utc_text(at + timedelta(days=7)),
        rested_um=rested_um,
        rested_at=utc_text(at + timedelta(days=8)),
        **{"mark_um": MARK_UM, "rested_method": "outside", "before_read": 1, **more},
    )


def boots(store: Store, number: int) -> list[Job]:
    return [make_job(store, Act(NOW, 1), f"Customer {n}", "out") for n in range(number)]


def lines(store: Store):
    return {line.name: line for line in learnt_lines(store, SHOP)}


def test_the_tapes_own_error_is_learnt_from_girths_read_anew(store: Store) -> None:
    """Not from one taken over, read by another tape, at another mark, flat, or read twice."""
    wrong: list[dict[str, object]] = [
        {"before_read": 0},
        {"method": "inside", "rested_method": "inside"},
        {"mark_um": MARK_UM + 25_400},
    ]
    read, others = boots(store, 10), boots(store, 3)
    with store.write_tx():
        for number, job in enumerate(read):
            round_of(store, job.left, 1, 360_000, 366_000)
            round_of(store, job.left, 2, 366_000 + (-1) ** number * 2_000, 370_000)
        for job, more in zip(others, wrong, strict=True):
            round_of(store, job.left, 1, 360_000, 366_000)
            round_of(store, job.left, 2, 390_000, 391_000, **more)
    line = lines(store)["One reading of the tape is off by"]
    assert (line.number, line.value) == (10, "1.4 mm")
    assert line.interval == "1.0 mm to 2.5 mm"
    assert line.beside == "reckoned with: 1.5 mm"


def test_nine_cases_are_not_told(store: Store) -> None:
    made = boots(store, 9)
    with store.write_tx():
        for job in made:
            round_of(store, job.left, 1, 360_000, 366_000)
            round_of(store, job.left, 2, 368_000, 370_000)
    line = lines(store)["One reading of the tape is off by"]
    assert (line.number, line.value, line.interval) == (9, "", "")


def test_return_after_resting_is_pickup_against_the_last_rested_reading(store: Store) -> None:
    made = boots(store, 12)
    with store.write_tx():
        for number, job in enumerate(made):
            round_of(store, job.left, 1, 360_000, 366_000)
            store.insert(
                "boot_readings",
                item_id=job.left,
                moment="pickup",
                height_um=MARK_UM,
                height_text="12",
                girth_um=365_000 + 500 * (number % 3),
                girth_text="36.5 cm",
                unit="cm",
                method="outside",
                repeat=1,
                read_at=utc_text(NOW),
            )
    line = lines(store)["Change from the last rested reading to pickup"]
    assert (line.number, line.value) == (12, "-0.5 mm")


def test_the_first_try_on_stands_beside_what_was_told(store: Store) -> None:
    made = boots(store, 10)
    with store.write_tx():
        for number, job in enumerate(made):
            round_of(store, job.left, 1, 360_000, 366_000)
            store.insert(
                "predictions",
                item_id=job.left,
                made_at=utc_text(NOW),
                assessment='{"fits": 0.8}',
                tier="routine",
                likely=1,
                eight_in_ten=2,
            )
            for step in ("back-on-tree", "try-on") if number < 3 else ("try-on",):
                store.insert(
                    "steps",
                    item_id=job.left,
                    step=step,
                    happened_at=utc_text(NOW),
                    saved_at=utc_text(NOW),
                    from_state="shelved",
                    to_state="shelved",
                )
    line = lines(store)["Closed at the first try-on"]
    assert (line.number, line.value, line.beside) == (10, "70%", "told: 80%")
    assert line.interval == "40% to 89%"


def test_each_wear_says_how_often_nothing_felt_wrong(store: Store) -> None:
    made = boots(store, 10)
    with store.write_tx():
        for number, job in enumerate(made):
            plan_id = store.insert(
                "wear_plans",
                ticket_id=job.ticket_id,
                zone="UTC",
                hour=18,
                preset="three-short-wears",
                rest_from="start",
                rules="{}",
                picked_up_at=utc_text(NOW),
                off_tree_at=utc_text(NOW),
                ordinary_from="2026-03-21",
            )
            store.insert(
                "wears",
                plan_id=plan_id,
                position=1,
                n=1,
                start_at=utc_text(NOW),
                end_at=utc_text(NOW),
                minutes=30,
                local_day="2026-03-18",
                state="worn",
            )
            if number < 2:
                day = "2026-03-18" if number else "2026-03-19"
                kind = {"kind": "not-right", "due_day": day}
                store.insert("follow_ups", ticket_id=job.ticket_id, said="tight", **kind)
    line = lines(store)["Wear 1: nothing felt wrong"]
    assert (line.number, line.value) == (10, "90%")


def test_how_boots_felt_is_told_by_leather_and_rounds(store: Store) -> None:
    """The boot that was tapped, and not the other; an extra wear and fewer than ten
    say nothing.
    """
    made = boots(store, 12)
    with store.write_tx():
        for number, job in enumerate(made):
            store.change("items", job.left, material="goat" if number < 11 else "oiled")
            round_of(store, job.left, 1, 360_000, 366_000)
            felt = "sore" if number < 2 else "tight" if number < 4 else "good"
            told = feelings.Feeling(0 if number == 10 else 1, "2026-03-18", "left", felt)
            feelings.put(store, Act(NOW), job.ticket_id, told)
    found = {name: line for name, line in lines(store).items() if "felt good" in name}
    assert list(found) == ["goat, kid, rounds: 1, wear 1: felt good"]
    (line,) = found.values()
    assert (line.number, line.value, line.interval) == (10, "60%", "31% to 83%")
