"""Which messages are queued: by a change, by the hour, each once; and when phones end."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support.cast import Clock
from support.push_service import Phone, PushService
from support.ticket_rows import Job

from fitcounter.desk.aftercare import not_right
from fitcounter.desk.aftercare.not_right import NotRightReport, ShopAnswer
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.customer import link_new_or_closed as customer_link
from fitcounter.desk.messages import push_asked_by_phone as asking
from fitcounter.desk.messages import push_events
from fitcounter.desk.shop import Shop, Written
from fitcounter.store import push_phones, pushes
from fitcounter.store.database import Act, Store


def kinds(store: Store, job: Job) -> list[str]:
    return [
        one.kind for one in pushes.QUEUE.of_ticket(store, job.ticket_id) if one.state == "waiting"
    ]


def look(store: Store, choices: Shop, clock: Clock) -> None:
    for _ in range(2):  # the second look finds nothing new
        push_events.queue_due(store, choices, clock.now, of_bench=True)


def test_put_them_on_is_said_at_the_hour_of_the_wear_and_not_before(
    store: Store, worn: Job, phone: Phone, choices: Shop, clock: Clock
):
    clock.on(hours=7, minutes=59)
    look(store, choices, clock)
    assert kinds(store, worn) == []
    clock.on(minutes=1)
    look(store, choices, clock)
    assert kinds(store, worn) == ["put-on"]


def test_who_asks_while_a_clock_runs_is_not_told_to_put_them_on(
    store: Store, act: Act, worn: Job, service: PushService, choices: Shop, clock: Clock
):
    clock.on(hours=8, minutes=1)
    late = Act(clock.now, None)
    asking.ask_for_ticket(store, late, worn.ticket_id, service.phone().typed, "en")
    look(store, choices, clock)
    assert kinds(store, worn) == []


def test_a_day_that_was_missed_is_told_the_morning_after_and_days_in_a_row_once(
    store: Store, worn: Job, phone: Phone, choices: Shop, clock: Clock
):
    """And after three days nobody is asked every evening."""
    told = []
    clock.on(hours=-1)  # nine in the morning of the first day
    for _ in range(24 * 8):
        clock.on(hours=1)
        look(store, choices, clock)
        for one in pushes.QUEUE.of_ticket(store, worn.ticket_id)[len(told) :]:
            told.append((one.kind, choices.local(clock.now).strftime("%d %H")))
    assert told == [
        ("put-on", "17 18"),
        ("missed", "18 09"),
        ("put-on", "18 18"),
        ("put-on", "19 18"),
        ("put-on", "20 18"),
    ]


def test_an_answer_of_the_shop_and_a_report_are_told_with_what_caused_them(
    store: Store, worn: Job, phone: Phone, staff_phone: Phone, choices: Shop, clock: Clock
):
    today = choices.today(clock.now)
    told = NotRightReport(felt=("left-numb",), side=None, place="", text="")
    not_right.report(store, Act(clock.now, None), worn.ticket_id, told, today)
    assert kinds(store, worn) == ["not-right"]
    seen = not_right.standing(store, worn.ticket_id).seen
    answer = ShopAnswer("stop", "Leave them off.", None, seen)
    not_right.answer(store, Act(clock.now, 1), worn.ticket_id, answer)
    assert kinds(store, worn) == ["not-right", "answered"]


def test_ready_waits_ten_minutes_and_is_taken_back_with_its_step(
    store: Store, act: Act, job: Job, service: PushService, choices: Shop, clock: Clock
):
    asking.ask_for_ticket(store, act, job.ticket_id, service.phone().typed, "en")
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    assert kinds(store, job) == ["ready"]
    assert pushes.QUEUE.due(store, clock.on(minutes=9), 9) == []
    assert len(pushes.QUEUE.due(store, clock.on(minutes=2), 9)) == 1
    with store.write_tx():
        store.change("items", job.bag, state="working")
    push_events.tell(store, Act(clock.now, 1), "step", Written(job.ticket_id))
    assert kinds(store, job) == []


@pytest.mark.parametrize("how", ["new link", "taken back", "over", "worn in"])
def test_phones_end_with_the_link_and_after_the_last_wear(
    store: Store,
    worn: Job,
    phone: Phone,
    choices: Shop,
    clock: Clock,
    tmp_path,
    how: str,
):
    act = Act(clock.now, 1)
    if how == "new link":
        customer_link.renew(store, act, choices, worn.ticket_id, tmp_path)
    elif how == "taken back":
        customer_link.take_back(store, act, worn.ticket_id)
    else:
        with store.write_tx():
            if how == "over":
                store.change("tickets", worn.ticket_id, link_until="2026-03-17T00:00:00Z")
            else:
                first = "2026-03-01"
                plan_id = store.value("SELECT id FROM wear_plans")
                store.change("wear_plans", plan_id, ordinary_from=first)
                rules = store.value("SELECT rules FROM wear_plans")
                store.change("wear_plans", plan_id, rules=rules.replace("2026-03-2", "2026-03-0"))
                store.db.execute("UPDATE wears SET state = 'off'")
        look(store, choices, clock)
    assert push_phones.of_ticket(store, worn.ticket_id) == []


def test_a_time_on_a_tree_that_is_over_is_told_in_the_shops_hours(
    store: Store, job: Job, staff_phone: Phone, choices: Shop, clock: Clock
):
    """Once a ticket, though both boots come off."""
    due = clock.now + timedelta(hours=2)
    with store.write_tx():
        tree_ids = [store.insert("trees", label=label, side="either") for label in "45"]
        for item_id, tree_id in zip((job.left, job.right), tree_ids, strict=True):
            store.change("items", item_id, state="on-tree")
            store.insert(
                "rounds",
                item_id=item_id,
                n=1,
                tree_id=tree_id,
                on_at="2026-03-10T16:00:00Z",
                due_off_at=due.strftime("%Y-%m-%dT%H:%M:%SZ"),
            )
    look(store, choices, clock)
    assert kinds(store, job) == []
    clock.on(hours=2)
    assert choices.today(clock.now) == date(2026, 3, 17)
    look(store, choices, clock)
    assert kinds(store, job) == ["hold"]
