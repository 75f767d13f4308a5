"""The ways in which a clock or a calendar is wrong: one that jumps, an hour that is not, late in
the evening of another zone, a leap day, a shop that moves.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from support.till import Answer, Till, fresh
from support.whole_shop import NOW, PEOPLE
from system.bad_ways import way

from fitcounter.desk import shop
from fitcounter.desk.common.link_token import link_hash, link_key, link_token
from fitcounter.desk.shop import Act
from fitcounter.store import tickets


@way("clock")
def wrong_clock(till: Till, how: str, _: object) -> Answer:
    """No session outlives a clock that jumps: signed out, and what was typed is kept.

    Signed in again it is saved, and health says why.
    """
    path, sent = till.usual("reading")
    now = till.shop.clock.now = {
        "an hour back": NOW - timedelta(hours=1),
        "a day on": NOW + timedelta(days=1),
        "1970": datetime(1970, 1, 1, tzinfo=UTC),
    }[how]
    answer = till.client.post(path, data={**sent, "csrf_token": till.token})
    owner = Till(till.shop, "owner").client
    with till.store.write_tx():
        till.store.db.execute(
            "UPDATE sessions SET seen_at = ?, ends_at = '2030-01-01T00:00:00Z'",
            [now.strftime("%Y-%m-%dT%H:%M:%SZ")],
        )
    assert till.post(path, sent).code == 303
    assert ("clock: it shows a time before" in owner.get("/shop/health").text) is (
        how != "a day on"
    )
    return Answer(answer.status_code, answer.text, sent)


def handed_over(till: Till, at: datetime, zone: str, hour: str = "18:00") -> int:
    """A pair that is fetched at this moment in a shop of this zone; her ticket."""
    act = Act(NOW, PEOPLE["owner"])
    shop.choose(till.store, act, zone=zone)
    till.shop.clock.now = at
    with till.store.write_tx():
        till.store.db.execute(
            "UPDATE sessions SET seen_at = ?, ends_at = '2030-01-01T00:00:00Z'",
            [at.strftime("%Y-%m-%dT%H:%M:%SZ")],
        )
    both = [str(till.boots.left), str(till.boots.right)]
    sent = {
        "submission_id": fresh(),
        "items": both,
        "collected_by": "Marisol",
        "catch_up": "y",
        "preset": "three-short-wears",
        "evening": hour,
    }
    answer = till.post(f"/pickup/{till.boots.ticket_id}", sent)
    assert answer.code == 303, answer.text
    return till.boots.ticket_id


def first_day(till: Till, ticket_id: int) -> str:
    """The day of her first wear as her calendar file has it, and all of the file."""
    ticket = tickets.get(till.store, ticket_id)
    made = link_token(link_key(till.store.path.parent), ticket)
    with till.store.write_tx():
        till.store.change(
            "tickets", ticket_id, link_hash=link_hash(made), link_until="2031-01-01T00:00:00Z"
        )
    answer = till.shop.app.test_client().get(f"/c/{made}/calendar.ics")
    assert answer.status_code == 200, answer.text
    return answer.text


@way("an hour that is not")
def an_hour_that_is_not(till: Till, _: object, __: object) -> Answer:
    """02:30 on the day the clocks go on: it begins at 03:30 of that day's clock, one second of
    elapsed time wrong nowhere.
    """
    ticket_id = handed_over(till, datetime(2026, 3, 7, 15, tzinfo=UTC), "America/New_York", "02:30")
    ics = first_day(till, ticket_id)
    starts = [
        row["start_at"]
        for row in till.store.rows(
            "SELECT start_at FROM wears WHERE plan_id = (SELECT max(id) FROM wear_plans) ORDER BY n"
        )
    ]
    assert starts[0] == "2026-03-08T07:30:00Z", starts
    return Answer(200, "2026-03-08" if "DTSTART;TZID=America/New_York:20260308" in ics else ics)


@way("late evening")
def late_evening(till: Till, zone: str, _: object) -> Answer:
    """Fetched at 23:30 of the shop's own clock: day one is the shop's next day, not that of
    London.
    """
    at = datetime(2026, 3, 17, 23, 30, tzinfo=ZoneInfo(zone)).astimezone(UTC)
    ticket_id = handed_over(till, at, zone)
    ics = first_day(till, ticket_id)
    row = till.store.rows(
        "SELECT start_at FROM wears WHERE plan_id = (SELECT max(id) FROM wear_plans) ORDER BY n"
        " LIMIT 1"
    )[0]
    local = datetime.fromisoformat(row["start_at"].replace("Z", "+00:00")).astimezone(
        ZoneInfo(zone)
    )
    assert local.strftime("%H:%M") == "18:00"
    assert f"DTSTART;TZID={zone}:{local:%Y%m%d}" in ics
    return Answer(200, local.date().isoformat())


@way("29 February")
def leap_day(till: Till, _: object, __: object) -> Answer:
    ticket_id = handed_over(till, datetime(2028, 2, 29, 15, tzinfo=UTC), "America/New_York")
    return Answer(200, str(tickets.get(till.store, ticket_id).guarantee_end))


@way("zone changed")
def zone_changed(till: Till, _: object, __: object) -> Answer:
    """A shop that moves: calendars that were given keep their hours."""
    ticket_id = handed_over(till, NOW, "America/New_York")
    before = first_day(till, ticket_id)
    shop.choose(till.store, Act(NOW, PEOPLE["owner"]), zone="Asia/Tokyo")
    after = first_day(till, ticket_id)
    assert [line for line in before.splitlines() if line.startswith("DTSTART")] == [
        line for line in after.splitlines() if line.startswith("DTSTART")
    ]
    return Answer(200, "")
