"""When something does not feel right, every form of the calendar keeps the boots off until a
person at the shop has answered.
"""

from __future__ import annotations

from datetime import UTC, datetime

from icalendar import Calendar
from support.cast import Clock, Counter
from support.paper_text import text_of
from support.ticket_rows import Job

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.store.database import Store

OFF = "Boots off until the shop has answered."
MISSED = "If you miss a day, the following ones move one day later."


def events(stranger: Counter, token: str) -> dict[str, tuple[str, int, int]]:
    """Status, sequence and alarms of each event of the phone's calendar."""
    calendar = Calendar.from_ical(stranger.get(f"/c/{token}/calendar.ics").data)
    return {
        str(one["uid"]).rpartition("-")[0] + str(one["uid"])[-6:]: (
            str(one["status"]),
            int(one["sequence"]),
            len(one.walk("VALARM")),
        )
        for one in calendar.walk("VEVENT")
        if not str(one["uid"]).endswith("guarantee")
    }


def printed(stranger: Counter, token: str) -> str:
    return text_of(stranger.get(f"/c/{token}/calendar.pdf").data)


def report(stranger: Counter, token: str, **typed: object) -> None:
    stranger.get(f"/c/{token}")
    assert stranger.post(f"/c/{token}/not-right", **typed).status_code == 303


def answer(counter: Counter, job: Job, **typed: object) -> int:
    page = counter.get(f"/tickets/{job.ticket_id}/not-right").text
    seen = page.partition('name="seen" value="')[2].partition('"')[0]
    said = {"seen": seen, "note": "Rest them two days.", **typed}
    return counter.post(f"/tickets/{job.ticket_id}/not-right", **said).status_code


def test_numb_puts_all_four_forms_on_hold_and_the_answer_of_a_person_ends_it(
    stranger: Counter, counter: Counter, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=9)
    before = events(stranger, home)
    page = stranger.get(f"/c/{home}").text
    assert "Today, wear your boots for 30 minutes" in page
    assert MISSED in page
    assert "Rest them" not in printed(stranger, home)

    report(stranger, home, felt=["left-numb", "right-tight"], said="toes")
    page = stranger.get(f"/c/{home}").text
    assert f">{OFF}</h1>" in page
    assert "Today, wear your boots" not in page
    assert "data-minutes" not in page
    assert 'href="tel:911"' in page
    assert "can be a clot: get medical advice today" in page
    assert "calls you" not in page
    saved = stranger.get(f"/c/{home}/calendar.html").text
    assert OFF in saved
    assert "data-minutes" not in saved.partition("<script>")[0]
    assert MISSED not in page + saved, "nothing of the plan is said while it is on hold"
    assert OFF in printed(stranger, home)
    held = events(stranger, home)
    assert held.keys() == before.keys()
    for uid, (status, sequence, alarms) in held.items():
        assert (status, alarms) == ("CANCELLED", 0)
        assert sequence > before[uid][1]

    assert "left: Numb or tingling, right: Only tight" in counter.get("/").text
    assert answer(counter, job, advice="go-on", from_day="2026-03-19", note="") == 422
    assert f">{OFF}</h1>" in stranger.get(f"/c/{home}").text, "an answer needs a note"
    assert answer(counter, job, advice="go-on", from_day="2026-03-19") == 303
    page = stranger.get(f"/c/{home}").text
    assert "Let your boots rest until Thu, Mar 19" in page
    assert "Rest them two days." in page
    assert "Cora, " in page
    assert "Rest them two days." in printed(stranger, home)
    for uid, (status, sequence, _) in events(stranger, home).items():
        assert status == "CONFIRMED"
        assert sequence > held[uid][1]


def test_come_in_doctor_and_stop_keep_the_boots_off(
    stranger: Counter, counter: Counter, job: Job, home: str
) -> None:
    report(stranger, home, felt=["left-pain"])
    for advice, headline in (
        ("come-in", "Bring them to the shop."),
        ("doctor", "See a doctor first."),
        ("stop", "Do not wear these boots."),
    ):
        assert answer(counter, job, advice=advice, note=f"Said {advice}.") == 303
        page = stranger.get(f"/c/{home}").text
        assert f"Boots off. {headline}" in page
        assert f"Said {advice}." in page
        assert {status for status, _, _ in events(stranger, home).values()} == {"CANCELLED"}
        assert "Boots off: the wearing-in calendar is on hold." in (
            counter.get(f"/tickets/{job.ticket_id}").text
        )
    assert answer(counter, job, advice="go-on", from_day="2026-03-18") == 303
    assert ">Let your boots rest until Wed, Mar 18" in stranger.get(f"/c/{home}").text


def test_an_answer_never_covers_what_was_said_after_the_page_was_opened(
    stranger: Counter, counter: Counter, job: Job, home: str
) -> None:
    report(stranger, home, felt=["left-tight"])
    page = counter.get(f"/tickets/{job.ticket_id}/not-right").text
    seen = page.partition('name="seen" value="')[2].partition('"')[0]
    report(stranger, home, felt=["left-numb"])
    typed = {"advice": "go-on", "from_day": "2026-03-18", "note": "Fine."}
    late = counter.post(f"/tickets/{job.ticket_id}/not-right", seen=seen, **typed)
    assert late.status_code == 409
    assert "Numb or tingling" in late.text
    assert f">{OFF}</h1>" in stranger.get(f"/c/{home}").text


def test_nothing_is_missed_on_hold_and_a_wear_of_before_counts(
    stranger: Counter, counter: Counter, store: Store, job: Job, home: str, clock: Clock
) -> None:
    clock.on(hours=9)
    report(stranger, home, felt=["right-swollen"])
    stranger.post(f"/c/{home}/wear", n="1", minutes="20", put_on="18:00")
    assert stranger.post(f"/c/{home}/not-today", n="2").status_code == 422
    clock.on(days=5)
    states = [
        one.state for one in wear_calendar.current(store, job.ticket_id, clock.now).plan.wears
    ]
    assert states == ["worn", "planned", "planned"]
    counter.sign_in()
    assert answer(counter, job, advice="go-on", from_day="2026-03-24") == 303
    plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
    assert [one.local_day.day for one in plan.to_come] == [24, 25]


def test_at_night_it_says_when_the_shop_opens_and_whom_to_call(
    stranger: Counter, home: str, clock: Clock
) -> None:
    clock.now = datetime(2026, 3, 22, 2, 0, tzinfo=UTC)  # Saturday, ten in the evening
    report(stranger, home, felt=["left-swollen"])
    page = stranger.get(f"/c/{home}").text
    assert "Closed now. Opens Tue, Mar 24 at 9:00 AM." in page
    assert 'href="tel:911"' in page


def test_the_way_to_say_it_stands_on_every_wearing_day(
    stranger: Counter, home: str, clock: Clock
) -> None:
    for hours in (0, 9, 24 * 3, 24 * 4, 24 * 5):
        clock.on(hours=hours)
        assert "It hurts or goes numb" in stranger.get(f"/c/{home}").text
