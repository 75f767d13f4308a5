"""After a wear: how each boot felt, and what is said when the boots are worn in."""

from __future__ import annotations

from datetime import date

from support.cast import Clock, Counter
from support.ticket_rows import Job

from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.store.database import Act, Store


def test_how_each_boot_felt_is_one_tap_and_the_shop_reads_it(
    counter: Counter, stranger: Counter, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=11)
    page = stranger.get(f"/c/{home}").text
    assert "How did they feel?" not in page
    assert "0 of 3 done" in page
    stranger.post(f"/c/{home}/wear", n="1", minutes="30")
    page = stranger.get(f"/c/{home}").text
    assert "How did they feel?" in page
    assert "1 of 3 done" in page
    assert "Well done: the first time is behind you." in page
    for felt in ("left-good", "right-tight", "right-sore"):
        assert stranger.post(f"/c/{home}/felt", felt=felt).status_code == 303
    page = stranger.get(f"/c/{home}").text
    assert page.count('aria-pressed="true"') == 2
    assert "tell the shop below what you feel" in page
    assert "Well done" not in page, "of a boot that hurts"
    assert stranger.post(f"/c/{home}/felt", felt="left-wonderful").status_code == 422
    counter.sign_in()
    assert "Tue, Mar 17: left good, right sore" in counter.get(f"/tickets/{job.ticket_id}").text
    assert "right · sore after wearing them" in counter.get("/").text
    clock.on(days=2)
    assert "How did they feel?" not in stranger.get(f"/c/{home}").text


def test_the_end_says_how_to_keep_them_and_whom_to_call(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    stranger.get(f"/c/{home}")
    for n, kind in ((1, "the first time is"), (2, "2 of 3 are"), (3, "the short times are all")):
        plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
        clock.now = plan.to_come[0].end
        assert stranger.post(f"/c/{home}/wear", n=str(n), minutes="30").status_code == 303
        assert f"Well done: {kind} behind you." in stranger.get(f"/c/{home}").text
    clock.on(days=6)
    page = stranger.get(f"/c/{home}").text
    assert "Your boots are worn in. Enjoy them." in page
    assert "take it off and call the shop" in page
    assert "Zip with your leg relaxed, never by force." in page
    assert "sleep in your boots yet" not in page


def test_what_the_shop_once_answered_does_not_stand_beside_the_end(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    """An old "go on from Wednesday" would contradict "enjoy them"."""
    seen = not_right.standing(store, job.ticket_id).seen
    said = not_right.ShopAnswer("go-on", "Half an hour, no more.", date(2026, 3, 18), seen)
    not_right.answer(store, Act(clock.now, 1), job.ticket_id, said)
    assert "Half an hour, no more." in stranger.get(f"/c/{home}").text
    for n in (1, 2, 3):
        plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
        clock.now = plan.to_come[0].end
        stranger.post(f"/c/{home}/wear", n=str(n), minutes="30")
    assert "Half an hour, no more." in stranger.get(f"/c/{home}").text
    clock.on(days=6)
    page = stranger.get(f"/c/{home}").text
    assert "Your boots are worn in. Enjoy them." in page
    assert "Half an hour, no more." not in page
