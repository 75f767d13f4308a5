"""Today and the one field that finds: the row is the answer, and every list empties itself."""

from __future__ import annotations

import re

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import not_right
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.store import tags
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


@pytest.fixture
def shelved(store: Store, job: Job, clock: Clock) -> Job:
    for item_id in (job.left, job.right):
        catch_up(
            store,
            Act(clock.now, 1),
            item_id,
            "shelved",
            StepInput(clock.now, columns={"shelf": "C2"}),
        )
    with store.write_tx():
        store.change("items", job.bag, promised_day="2026-03-19")
    return job


def section(page: str, title: str) -> str:
    """One list of the page, empty where it is not shown."""
    _, _, rest = page.partition(f">{title} <span")
    return rest.partition("</section>")[0]


def test_the_row_says_where_each_thing_is_and_what_is_owed(counter: Counter, shelved: Job):
    page = counter.get("/find?q=1").text
    assert "both boots: ready, shelf C2; bag: waiting for the bench, Thursday · balance $60" in page


@pytest.mark.parametrize(
    "typed",
    ["1", "0142", "(555) 010-0142", "ma", "okafor", "Okaf", "okfaor", "okaffor", "okfor", "LIND"],
)
def test_one_field_finds_by_number_name_phone_and_with_a_slip(
    counter: Counter, shelved: Job, typed: str
):
    assert "Okafor-Lind" in counter.get("/find", query_string={"q": typed}).text


@pytest.mark.parametrize(
    "typed", ["m", "2", "9999", "Zebedee", "%", "_", "' OR 1=1 --", "\x00", "x" * 500, "   "]
)
def test_what_is_not_there_is_said_in_words_and_never_breaks(
    counter: Counter, shelved: Job, typed: str
):
    answer = counter.get("/find", query_string={"q": typed})
    assert answer.status_code == 200
    assert "Okafor-Lind" not in answer.text


def test_a_scanned_tag_finds_its_ticket(counter: Counter, store: Store, shelved: Job, clock: Clock):
    with store.write_tx():
        code = tags.get(store, tags.make(store, Act(clock.now), 1, "left", shelved.left)).code
    for typed in (code, code.lower(), f"HTTPS://SHOP.EXAMPLE/T/{code}"):
        assert "Okafor-Lind" in counter.get("/find", query_string={"q": typed}).text


def test_a_call_is_offered_only_when_all_is_here_and_leaves_the_list_when_made(
    counter: Counter, store: Store, shelved: Job, clock: Clock
):
    assert "Okafor-Lind" not in section(counter.get("/").text, "Calls to make")
    catch_up(store, Act(clock.now, 1), shelved.bag, "shelved", StepInput(clock.now))
    assert "Okafor-Lind" in section(counter.get("/").text, "Calls to make")

    page = counter.get(f"/tickets/{shelved.ticket_id}/call").text
    assert (
        "Hi Marisol, this is Quillmarsh Leather Bench. Everything is ready for you (ticket 1)."
        in page
    )
    assert 'href="tel:+15550100142"' in page
    counter.post(f"/tickets/{shelved.ticket_id}/call", how="no-answer")
    assert "Okafor-Lind" not in section(counter.get("/").text, "Calls to make")
    clock.on(days=1)
    counter.sign_in()
    assert "Okafor-Lind" in section(counter.get("/").text, "Calls to make")
    counter.post(f"/tickets/{shelved.ticket_id}/call", how="called")
    clock.on(days=1)
    counter.sign_in()
    assert "Okafor-Lind" not in section(counter.get("/").text, "Calls to make")


def test_the_next_call_opens_by_itself(counter: Counter, store: Store, clock: Clock):
    act = Act(clock.now, 1)
    jobs = [make_job(store, act, name, "shelved") for name in ("Ada", "Bea")]
    counter.get(f"/tickets/{jobs[0].ticket_id}/call")
    answer = counter.post(f"/tickets/{jobs[0].ticket_id}/call", how="called")
    assert answer.headers["Location"] == f"/tickets/{jobs[1].ticket_id}/call"
    assert (
        counter.post(f"/tickets/{jobs[1].ticket_id}/call", how="called").headers["Location"] == "/"
    )


def test_a_call_without_how_it_went_is_asked_for_and_the_note_is_kept(
    counter: Counter, store: Store, shelved: Job
):
    counter.get(f"/tickets/{shelved.ticket_id}/call")
    answer = counter.post(f"/tickets/{shelved.ticket_id}/call", note="rings, then stops")
    assert answer.status_code == 422
    assert "rings, then stops" in answer.text
    assert store.value("SELECT count(*) FROM calls") == 0


def test_late_says_by_how_many_days(counter: Counter, store: Store, job: Job):
    with store.write_tx():
        store.change("tickets", job.ticket_id, promise_day="2026-03-15")
    assert "2 days late" in section(counter.get("/").text, "Late")


def test_what_is_late_says_where_it_stands_once_and_is_never_hidden(
    counter: Counter, store: Store, clock: Clock, monkeypatch: pytest.MonkeyPatch
):
    """Under the calls to make in full; under Late with its days and its page, in full again where
    the calls do not show it.
    """
    jobs = [make_job(store, Act(clock.now, 1), name) for name in ("Ada", "Bea")]
    with store.write_tx():
        for one in jobs:
            store.change("tickets", one.ticket_id, promise_day="2026-03-15")
    page = counter.get("/").text
    words = "both boots and bag: waiting for the bench"
    calls, late = section(page, "Calls to make"), section(page, "Late")
    assert (calls.count(words), late.count(words)) == (2, 0)
    assert late.count("2 days late · under Calls to make") == 2
    assert all(f'href="/tickets/{one.ticket_id}"' in late for one in jobs)

    counter.get(f"/tickets/{jobs[0].ticket_id}/call")
    counter.post(f"/tickets/{jobs[0].ticket_id}/call", how="no-answer")
    page = counter.get("/").text
    assert "Ada" not in section(page, "Calls to make")
    late = section(page, "Late")
    assert (late.count(words), late.count("under Calls to make")) == (1, 1)
    assert late.count("2 days late") == 2

    ready = make_job(store, Act(clock.now, 1), "Cleo", "shelved")
    with store.write_tx():
        store.change("tickets", ready.ticket_id, promise_day="2026-03-14")
        store.change("tickets", jobs[0].ticket_id, promise_day="2026-03-16")
    monkeypatch.setattr(front_desk_today, "MOST_ROWS", 1)
    page = counter.get("/").text
    assert "Cleo" in section(page, "Calls to make"), "the one that is shown"
    assert words in section(page, "Late")
    assert "under Calls to make" not in page


def test_all_open_tickets_are_folded_under_how_many_they_are(
    counter: Counter, store: Store, job: Job
):
    """Open where somebody asked for every row."""
    folded = '<details class="aside"><summary><span>All open tickets</span>'
    page = counter.get("/").text
    assert folded in page
    assert '<span class="count">1</span></summary>' in page.partition(folded)[2][:60]
    assert "Okafor-Lind" in section(page, "All open tickets")
    opened = folded.replace("><summary", " open><summary")
    assert opened in counter.get("/?all=1").text
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="closed")
    page = counter.get("/").text
    assert folded not in page
    assert "No open tickets." in section(page, "All open tickets")


def test_what_was_fetched_today_is_on_its_list_and_gone_tomorrow(
    counter: Counter, store: Store, shelved: Job, clock: Clock
):
    things = frozenset((shelved.left, shelved.right, shelved.bag))
    handed = pickup.Handover(things, clock.now, "Marisol", catch_up=True)
    pickup.hand_over(store, Act(clock.now, 1), shelved.ticket_id, handed, shop.read(store))
    page = counter.get("/").text
    assert "Okafor-Lind" in section(page, "Picked up today")
    assert '<details class="aside"><summary><span>Picked up today</span>' in page, "folded away"
    clock.on(days=1)
    counter.sign_in()
    assert section(counter.get("/").text, "Picked up today") == ""


def test_what_does_not_feel_right_stands_first_and_goes_when_answered(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    act = Act(clock.now, 1)
    told = not_right.NotRightReport(side="left", place="ankle", text="rubs")
    today = shop.read(store).today(clock.now)
    row_id = not_right.report(store, act, job.ticket_id, told, today).row_id
    page = counter.get("/").text
    assert "does not feel right · left · ankle · rubs" in section(page, "Ask how the boots feel")
    refused = counter.post(f"/follow-ups/{row_id}", answer="good")
    assert "Boots are off until somebody answers." in refused.text
    path, seen = f"/tickets/{job.ticket_id}/not-right", f"{row_id}-0"
    answer = counter.post(path, advice="come-in", note="Tomorrow at ten.", seen=seen)
    assert answer.status_code == 303
    assert section(counter.get("/").text, "Ask how the boots feel") == ""


def test_a_long_list_says_how_many_more_and_they_are_all_one_tap_away(
    counter: Counter, store: Store, clock: Clock, monkeypatch: pytest.MonkeyPatch
):
    """Without script; what is not due stands in the list of everything open, and only there."""
    monkeypatch.setattr(front_desk_today, "MOST_ROWS", 2)
    act = Act(clock.now, 1)
    jobs = [make_job(store, act, name, "counter") for name in ("Ada", "Bea", "Cleo")]
    make_job(store, act, "Dora")
    page = counter.get("/").text
    listed = section(page, "Not agreed yet")
    assert [name in listed for name in ("Ada", "Bea", "Cleo", "Dora", "1 more")] == [
        True,
        True,
        False,
        False,
        True,
    ]
    assert "Dora" not in page
    assert 'href="/?all=1#l-not-agreed-yet"' in listed
    assert 'href="/?all=1#l-everything-open"' in section(page, "All open tickets")

    whole = counter.get("/?all=1").text
    assert all(
        name in section(whole, "All open tickets") for name in ("Ada", "Bea", "Cleo", "Dora")
    )
    assert "Cleo" in section(whole, "Not agreed yet")
    assert "more</strong>" not in whole
    assert 'id="l-not-agreed-yet"' in whole
    assert 'id="l-everything-open"' in whole

    for one in jobs:
        for item_id in (one.left, one.right, one.bag):
            catch_up(store, act, item_id, "shelved", StepInput(clock.now))
    assert section(counter.get("/").text, "Not agreed yet") == ""


def test_the_list_a_phone_may_keep_has_no_names(counter: Counter, stranger: Counter, shelved: Job):
    answer = counter.get("/ready.json")
    assert answer.json == [
        {
            "number": 1,
            "ready": False,
            "words": "both boots: ready, shelf C2; bag: waiting for the bench, Thursday",
        }
    ]
    assert stranger.get("/ready.json", headers={"Accept": "application/json"}).status_code == 401


def test_a_pair_is_one_row_and_what_is_empty_has_no_heading(
    bench: Counter, store: Store, job: Job, clock: Clock
):
    assert "Off the tree" not in bench.get("/").text
    on = {"n": 1, "on_at": "2026-03-10T10:00:00Z", "due_off_at": "2026-03-17T10:00:00Z"}
    with store.write_tx():
        for item_id in (job.left, job.right):
            store.insert("rounds", item_id=item_id, **on)
            store.change("items", item_id, state="on-tree")
    page = bench.get("/").text
    off = section(page, "Off the tree")
    assert re.findall(r'class="row-s">(.+?)</span>', off) == ["Left<br>Right"]
    assert "To decide" not in page
