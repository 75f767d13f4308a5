"""The book learns from finished boots, and says how well it was right."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.assessment import learnt_from_own_boots
from fitcounter.desk.book import estimate_and_result, estimate_csv
from fitcounter.fit.assessment.kept_fraction import class_kept
from fitcounter.store.database import Act, Store, utc_text

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


def finished(
    store: Store,
    n: int,
    kept: float,
    opening_mm: float = 20.0,
    material: str = "supple-full-grain",
    **more: object,
) -> None:
    """One job whose two boots had one round each, held a day, that kept just so much of it."""
    job = make_job(store, Act(NOW, 1), f"Customer {n}", "out")
    with store.write_tx():
        store.db.execute("UPDATE tickets SET state = 'out' WHERE id = ?", [job.ticket_id])
        for item_id in (job.left, job.right):
            store.db.execute("UPDATE items SET material = ? WHERE id = ?", [material, item_id])
            columns = {"prepared": "conditioned", "rested_method": "outside", **more}
            row_id = store.insert(
                "rounds",
                item_id=item_id,
                n=1,
                before_um=360_000,
                on_at=utc_text(NOW),
                off_at=utc_text(NOW + timedelta(hours=24)),
                rested_um=round(360_000 + 1000 * opening_mm * kept),
                rested_at=utc_text(NOW + timedelta(hours=50)),
                **columns,
            )
            store.insert(
                "turns",
                round_id=row_id,
                n=1,
                at=utc_text(NOW),
                girth_um=round(360_000 + 1000 * opening_mm),
            )
            step = {
                "step": "finish",
                "happened_at": utc_text(NOW),
                "saved_at": utc_text(NOW),
                "from_state": "finishing",
                "to_state": "finished",
            }
            store.insert("steps", item_id=item_id, **step)


def test_a_leather_nobody_finished_is_not_in_the_book(store: Store):
    make_job(store, Act(NOW, 1))
    assert estimate_and_result.leather_lines(store) == []
    assert learnt_from_own_boots.records(store) == {}


def test_the_kept_fraction_of_a_leather_is_the_design_s_update_of_the_table(store: Store):
    for n, kept in enumerate((0.40, 0.45, 0.35)):
        finished(store, n, kept)
    line = estimate_and_result.leather_lines(store)[0]
    assert line.boots == 6
    assert line.mean < line.table
    assert line.low < line.mean < line.high
    learnt = learnt_from_own_boots.records(store)["supple-full-grain"]
    assert (learnt.mean, learnt.sd, learnt.boots) == pytest.approx(
        (line.mean, (line.high - line.mean) / 1.2816, 6)
    )


def test_three_boots_of_known_doubt_give_the_published_mean_and_spread():
    """Mean .50, a pair .40 .45 and a boot .35, v .004 each: .43711 ± .12884 (the computation's own
    check).
    """
    from fitcounter.fit.assessment.kept_fraction import BootRecord

    first, second, alone = (BootRecord(value, 0.004) for value in (0.40, 0.45, 0.35))
    kept = class_kept(0.50, [[first, second], [alone]])
    assert (kept.mean, kept.sd) == pytest.approx((0.43711, 0.12884), abs=5e-6)


def test_a_reading_that_does_not_count_or_by_another_method_teaches_nothing(store: Store):
    finished(store, 1, 0.9, rested_counts=0)
    finished(store, 2, 0.9, rested_method="inside")
    assert estimate_and_result.leather_lines(store) == []


def test_dry_and_conditioned_rounds_are_told_apart(store: Store):
    finished(store, 1, 0.5)
    finished(store, 2, 0.3, prepared="dry")
    line = estimate_and_result.leather_lines(store)[0]
    assert [(name, count) for name, count, _ in line.prepared] == [("Conditioned", 2), ("Dry", 2)]
    assert [round(share, 2) for _, _, share in line.prepared] == [0.5, 0.3]


def test_what_was_said_against_what_it_took(store: Store, clock: Clock):
    for n, likely in enumerate((1, 1, 2)):
        finished(store, n, 0.5)
        item_id = store.value("SELECT max(id) - 2 FROM items")
        with store.write_tx():
            store.insert(
                "predictions",
                item_id=item_id,
                made_at=utc_text(NOW),
                assessment="{}",
                tier="stages",
                likely=likely,
                eight_in_ten=2,
                promise_day="2026-03-25",
            )
            store.insert(
                "steps",
                item_id=item_id,
                step="shelve",
                happened_at="2026-03-23T15:00:00Z",
                saved_at=utc_text(NOW),
                from_state="finished",
                to_state="shelved",
            )
    found = estimate_and_result.look(store, shop.read(store), clock.now).took
    assert (found.boots, found.fewer, found.as_said, found.more, found.first_go) == (3, 1, 2, 0, 3)
    assert (found.within_promise, found.promised, found.days_early) == (3, 3, 2.0)


def test_the_book_as_csv_has_no_names_and_no_formula(store: Store):
    finished(store, 1, 0.5)
    with store.write_tx():
        store.insert(
            "predictions",
            item_id=1,
            made_at=utc_text(NOW),
            assessment="{}",
            tier="stages",
            likely=1,
            eight_in_ten=2,
            promise_day="2026-03-25",
        )
    text = b"".join(estimate_csv.parts(store, shop.read(store))).decode("utf-8-sig")
    assert text.splitlines()[1].startswith("1,2026-03-17,1,2,2026-03-25,1,")
    assert "Customer" not in text


def test_the_next_finished_boot_changes_what_the_answer_stands_on(store: Store):
    finished(store, 1, 0.4)
    first = learnt_from_own_boots.records(store)["supple-full-grain"]
    assert learnt_from_own_boots.records(store)["supple-full-grain"] == first
    finished(store, 2, 0.4)
    assert learnt_from_own_boots.records(store)["supple-full-grain"].boots == 4


def test_stopped_declined_and_unfinished_boots_stand_beside_the_finished_ones(
    store: Store, clock: Clock
):
    """The ones that kept little are not left out of sight; without a round nothing is said."""
    became = {1: "shelved", 2: "stopped", 3: "declined", 4: "resting", 5: "queued"}
    for n, state in became.items():
        finished(store, n, 0.5)
        item_id = store.value("SELECT max(id) - 2 FROM items")
        with store.write_tx():
            store.db.execute("UPDATE items SET state = ? WHERE id = ?", [state, item_id])
            store.db.execute("DELETE FROM steps WHERE item_id = ?", [item_id])
            if state == "declined":
                times = {"happened_at": utc_text(NOW), "saved_at": utc_text(NOW)}
                moved = {"from_state": "to-decide", "to_state": "declined"}
                store.insert("steps", item_id=item_id, step="decline", **times, **moved)
                store.db.execute("UPDATE items SET state = 'out' WHERE id = ?", [item_id])
            if state == "queued":
                store.db.execute(
                    "DELETE FROM turns WHERE round_id IN (SELECT id FROM rounds WHERE item_id = ?)",
                    [item_id],
                )
                store.db.execute("DELETE FROM rounds WHERE item_id = ?", [item_id])
            store.insert(
                "predictions",
                item_id=item_id,
                made_at=utc_text(NOW),
                assessment="{}",
                tier="routine",
                likely=2,
                eight_in_ten=2,
            )
    page = estimate_and_result.look(store, shop.read(store), clock.now)
    assert page.results == (estimate_and_result.ResultRow(2, (0, 1, 0, 0, 0), 1, 1, 1),)
    assert (page.took.boots, page.took.stopped, page.took.declined) == (1, 1, 1)
    assert page.took.unfinished == 1
    assert sum(cell.boots for cell in page.grid.cells) == 1
    assert "given back undone" in b"".join(estimate_csv.parts(store, shop.read(store))).decode()
