"""After pickup: the calendar follows what happened, the shop's list fills and empties, a comeback
is compared.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.aftercare import aftercare
from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.bench import item_figures, item_page, round_steps
from fitcounter.desk.common.item_steps import Said, catch_up
from fitcounter.desk.front_desk import pickup
from fitcounter.errors import BadInput, BadReading
from fitcounter.store import contacts, items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def home(store: Store, job, act: Act):
    """The boots are at home since now, read at 14 1/2 in rested, outside, at the mark."""
    with store.write_tx():
        for item_id in (job.left, job.right):
            store.insert(
                "rounds",
                item_id=item_id,
                n=1,
                mark_um=304800,
                before_um=361950,
                before_text="14 1/4",
                on_at="2026-03-01T10:00:00Z",
                off_at="2026-03-08T10:00:00Z",
                rested_um=368300,
                rested_text="14 1/2",
                rested_method="outside",
                rested_at="2026-03-09T10:00:00Z",
            )
        store.insert(
            "leg_readings",
            fit_id=job.fit_id,
            side="left",
            height_um=304800,
            height_text="12",
            girth_um=365125,
            girth_text="14 3/8",
            unit="in",
            repeat=1,
            read_at="2026-03-01T10:00:00Z",
        )
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", Said(act.at))
    things = frozenset((job.left, job.right, job.bag))
    pickup.hand_over(
        store,
        act,
        job.ticket_id,
        pickup.Handed(things, act.at, "Marisol", preset="three-short-wears"),
        shop.read(store),
    )
    return job


def test_a_wear_recorded_twice_counts_once(store: Store, home, clock: Clock):
    start = aftercare.calendar(store, home.ticket_id, clock.now).plan.to_come[0].start
    clock.now = start + timedelta(hours=1)
    for _ in range(2):
        aftercare.record_wear(
            store,
            Act(clock.now, submission_id="wear-one-1", body_hash="x"),
            home.ticket_id,
            1,
            start,
            30,
        )
    plan = aftercare.calendar(store, home.ticket_id, clock.now).plan
    assert [wear.state for wear in plan.wears] == ["worn", "planned", "planned"]
    assert plan.to_come[0].start - start == timedelta(hours=24)


def test_a_wear_over_its_time_is_on_the_shops_list(store: Store, home, clock: Clock):
    start = aftercare.calendar(store, home.ticket_id, clock.now).plan.to_come[0].start
    clock.now = start + timedelta(hours=2)
    aftercare.record_wear(store, Act(clock.now), home.ticket_id, 1, start, 55)
    assert "overlong" in [one.kind for one in contacts.due_follow_ups(store, date(2026, 3, 18))]


def test_not_today_moves_it_and_raises_the_sequence_for_her_phone(store: Store, home, clock: Clock):
    before = aftercare.calendar(store, home.ticket_id, clock.now)
    clock.now = before.plan.to_come[0].start
    aftercare.not_today(store, Act(clock.now), home.ticket_id, 1)
    after = aftercare.calendar(store, home.ticket_id, clock.now)
    assert after.plan.to_come[0].start == before.plan.to_come[0].start + timedelta(days=1)
    assert after.row.sequence == before.row.sequence + 1


def test_her_hour_moves_the_wears_to_come(store: Store, home, act: Act):
    aftercare.choose_hour(store, act, home.ticket_id, 20, 30)
    plan = aftercare.calendar(store, home.ticket_id, act.at).plan
    assert [wear.start.astimezone(plan.clock.zone).strftime("%H:%M") for wear in plan.to_come] == [
        "20:30"
    ] * 3


def test_not_right_is_on_todays_list_until_it_is_answered(store: Store, home, act: Act):
    row_id = (
        aftercare.not_right(
            store, act, home.ticket_id, "left", "ankle", "rubs", date(2026, 3, 17)
        ).row_id
        or 0
    )
    assert [
        (one.kind, one.side, one.place) for one in contacts.due_follow_ups(store, date(2026, 3, 17))
    ] == [("not-right", "left", "ankle")]
    aftercare.answer(store, act, row_id, "comes in tomorrow")
    assert contacts.due_follow_ups(store, date(2026, 3, 17)) == []


def test_nothing_said_is_asked_for(store: Store, home, act: Act):
    with pytest.raises(BadInput):
        aftercare.not_right(store, act, home.ticket_id, None, "", "", date(2026, 3, 17))
    with pytest.raises(BadInput):
        aftercare.answer(store, act, 1, "")


def came(act: Act, boot: str, leg: str = "") -> aftercare.CameBack:
    return aftercare.CameBack(act.at, "tight again", boot, leg, "in")


def test_a_comeback_says_that_the_boot_went_back_and_is_covered(store: Store, home, clock: Clock):
    clock.on(days=60)
    act = Act(clock.now)
    said = aftercare.come_back(
        store, act, home.left, came(act, "14 1/4", "14 3/8"), shop.read(store)
    )
    assert said.words.startswith("The boot went back")
    assert said.words.endswith(
        "The boot is ¼ in smaller than at pickup, the leg is as when it was read."
    )
    row = store.rows("SELECT * FROM comebacks")[0]
    assert (row["boot_change_um"], row["leg_change_um"], row["under_guarantee"], row["answer"]) == (
        -6350,
        0,
        1,
        "boot back",
    )
    assert items.get(store, home.left).state == "queued"
    assert tickets.get(store, home.ticket_id).state == "open"
    assert items.get(store, home.right).state == "out"


def test_a_comeback_says_that_the_leg_is_fuller(store: Store, home, act: Act):
    said = aftercare.come_back(
        store, act, home.left, came(act, "14 1/2", "14 3/4"), shop.read(store)
    )
    assert said.words.startswith("The leg is fuller")
    assert said.words.endswith(
        "The boot is as at pickup, the leg is ⅜ in fuller than when it was read."
    )


def test_a_comeback_after_the_last_day_is_not_covered(store: Store, home, clock: Clock):
    clock.on(days=366)
    act = Act(clock.now)
    aftercare.come_back(store, act, home.left, came(act, "14 1/4"), shop.read(store))
    assert store.value("SELECT under_guarantee FROM comebacks") == 0


def test_a_comeback_with_a_slip_stores_nothing(store: Store, home, act: Act):
    with pytest.raises(BadReading):
        aftercare.come_back(store, act, home.left, came(act, "145/8"), shop.read(store))
    assert store.value("SELECT count(*) FROM comebacks") == 0
    assert items.get(store, home.left).state == "out"


def test_what_a_comeback_is_compared_with_is_the_last_reading_that_counted(store: Store, home):
    before = aftercare.at_pickup(store, items.get(store, home.left))
    assert (before.height_um, before.boot_mm, before.boot_method) == (
        304800,
        Fraction(3683, 10),
        "outside",
    )
    assert before.leg_mm == Fraction(365125, 1000)


def test_the_end_of_the_guarantee_closes_the_ticket(store: Store, home, clock: Clock):
    assert aftercare.end_guarantees(store, Act(clock.now), shop.read(store)) == 0
    clock.on(days=366)
    assert aftercare.end_guarantees(store, Act(clock.now), shop.read(store)) == 1
    assert tickets.get(store, home.ticket_id).state == "closed"
    assert {one.state for one in items.of_ticket(store, home.ticket_id)} == {"closed"}


def test_the_bench_reads_what_a_boot_did_at_home_until_it_is_on_a_tree_again(
    store: Store, home, clock: Clock
):
    """The history keeps it; the page says it too, because the readings and the drawing there are
    from before.
    """
    act = Act(clock.now)
    aftercare.come_back(store, act, home.left, came(act, "14 1/4"), shop.read(store))
    seen = item_page.look(store, shop.read(store), home.left)
    assert seen.back == "the boot is ¼ in smaller than at pickup; under the guarantee"
    assert (seen.history[0].head, seen.history[0].text) == ("Back for another look", seen.back)
    found, here = standing(store, items.get(store, home.left)), shop.read(store)
    hints = item_figures.put_on_hints(store, here, items.get(store, home.left), seen.rounds, found)
    assert hints.before == "14 1/4", "as read today, and not as it was at pickup"
    with store.write_tx():
        store.insert("trees", label="4", side="left", size="M")
    round_steps.put_on(
        store,
        act,
        shop.read(store),
        home.left,
        Said(clock.now),
        round_steps.PutOn("4", before="14 1/4", on_tree="14 1/2"),
    )
    assert item_page.look(store, shop.read(store), home.left).back == ""
