"""The calendar that follows: what a phone that asks again gets before and after every change."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import vobject
from flask import Flask
from support.cast import Clock, Counter
from support.ticket_rows import Job
from vobject.base import Component

from fitcounter.desk import shop
from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.customer import link_new_or_closed as customer_link
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.store import erasing, settings, tickets
from fitcounter.store.database import Act, Store

Events = dict[str, Component]


@pytest.fixture(autouse=True)
def open_shop(app: Flask) -> None:
    """The shop has a name and a certificate that every phone knows."""
    app.config["SETTINGS"] = replace(app.config["SETTINGS"], base_url="https://boots.example.org")


def events(stranger: Counter, token: str) -> Events:
    """The events of the feed by UID, as another library reads them."""
    answer = stranger.get(f"/c/{token}/feed.ics")
    assert answer.status_code == 200, answer.text
    return {one.uid.value: one for one in vobject.readOne(answer.text).vevent_list}


def the_same_but_newer(before: Events, after: Events) -> None:
    assert after.keys() == before.keys()
    for uid, event in after.items():
        assert int(event.sequence.value) > int(before[uid].sequence.value)
        assert event.dtstamp.value >= before[uid].dtstamp.value


def statuses(found: Events) -> set[str]:
    return {one.status.value for uid, one in found.items() if "wear" in uid}


def test_a_phone_that_has_it_is_told_so_until_something_changes(
    stranger: Counter, home: str, clock: Clock
):
    """ETag and 304: within the day, the same bytes."""
    path = f"/c/{home}/feed.ics"
    first = stranger.get(path)
    assert first.headers["Content-Type"].startswith("text/calendar; charset=utf-8")
    assert first.headers["Cache-Control"] == "private, no-cache"
    clock.on(hours=1)
    again = stranger.get(path, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert stranger.get(path).data == first.data
    stranger.get(f"/c/{home}")
    stranger.post(f"/c/{home}/hour", evening="19:30", submission_id="hour-0001")
    changed = stranger.get(path, headers={"If-None-Match": first.headers["ETag"]})
    assert changed.status_code == 200
    assert "T193000" in changed.text


def test_every_change_follows_with_the_same_uids_and_a_higher_sequence(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
):
    """Moved, another hour, missed, held, gone on, worn; the link stands in each event once."""
    seen = events(stranger, home)
    for event in seen.values():
        words = event.description.value
        assert words.count(f"https://boots.example.org/c/{home}") == 1
        assert words.count("Quillmarsh Leather Bench") == words.count("(555) 010-0199") == 1
        assert event.organizer.value.startswith("tel:+1")
    assert "Boots on for 30 minutes (1 of 3)" in {one.summary.value for one in seen.values()}
    first = next(one for uid, one in seen.items() if uid.endswith("wear-1"))

    wear_calendar.not_today(store, Act(clock.on(minutes=5)), job.ticket_id, 1)
    moved = events(stranger, home)
    the_same_but_newer(seen, moved)
    assert moved[first.uid.value].dtstart.value == first.dtstart.value + timedelta(days=1)

    wear_calendar.choose_hour(store, Act(clock.on(minutes=5)), job.ticket_id, 20, 15)
    later = events(stranger, home)
    the_same_but_newer(moved, later)
    assert later[first.uid.value].dtstart.value.hour == 20

    clock.on(days=3)  # nothing was said: what was missed moves by itself
    missed = events(stranger, home)
    the_same_but_newer(later, missed)
    assert missed[first.uid.value].dtstart.value > later[first.uid.value].dtstart.value

    told = not_right.NotRightReport(felt=("left-numb",), side="left", place="calf", text="")
    not_right.report(store, Act(clock.on(minutes=5)), job.ticket_id, told, clock.now.date())
    held = events(stranger, home)
    the_same_but_newer(missed, held)
    assert statuses(held) == {"CANCELLED"}
    assert not any(hasattr(one, "valarm_list") for one in held.values())


@pytest.mark.parametrize("how", ["taken back", "renewed", "erased", "over", "unknown"])
def test_a_feed_whose_link_is_dead_gives_nothing_of_anybody(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock, tmp_path, how: str
):
    act = Act(clock.on(minutes=1), 3)
    if how == "taken back":
        customer_link.take_back(store, act, job.ticket_id)
    elif how == "renewed":
        customer_link.renew(store, act, shop.read(store), job.ticket_id, tmp_path)
    elif how == "erased":
        with store.write_tx():
            erasing.clear(store, act, tickets.get(store, job.ticket_id).customer_id)
    elif how == "over":
        clock.on(days=900)
    token = "A" * 22 if how == "unknown" else home
    answer = stranger.get(f"/c/{token}/feed.ics")
    assert answer.status_code == (410 if how == "over" else 404)
    assert "BEGIN:VCALENDAR" not in answer.text
    assert "Marisol" not in answer.text


def test_before_pickup_there_is_no_feed(stranger: Counter, token: str):
    assert stranger.get(f"/c/{token}/feed.ics").status_code == 404


def test_a_feed_asked_every_second_has_to_wait_and_one_asked_every_quarter_hour_never(
    stranger: Counter, store: Store, home: str, clock: Clock
):
    path = f"/c/{home}/feed.ics"
    answers = []
    for _ in range(42):
        clock.on(seconds=1)
        answers.append(stranger.get(path))
    codes = [one.status_code for one in answers]
    assert codes.count(200) == 40
    assert codes[-1] == 429
    assert 0 < int(answers[-1].headers["Retry-After"]) <= 60
    for _ in range(50):
        clock.on(minutes=15)
        staff_throttle.spend(store, "feed:another", staff_throttle.FEED, clock.now)
    assert stranger.get(path).status_code == 200


def test_the_page_offers_the_feed_where_it_opens_at_home_and_else_says_that_a_file_stays(
    app: Flask, stranger: Counter, home: str
):
    page = stranger.get(f"/c/{home}").text
    assert f'href="webcal://boots.example.org/c/{home}/feed.ics"' in page
    assert "does not change when a day moves" in page
    spanish = stranger.get(f"/c/{home}?language=es").text
    assert f'href="webcal://boots.example.org/c/{home}/feed.ics?language=es"' in spanish
    assert "SUMMARY;LANGUAGE=es" in stranger.get(f"/c/{home}/feed.ics?language=es").text
    app.config["SETTINGS"] = replace(app.config["SETTINGS"], base_url="http://192.168.1.20:8000")
    page = stranger.get(f"/c/{home}?language=en").text
    assert "webcal:" not in page
    assert "does not change when a day moves" in page
    file = stranger.get(f"/c/{home}/calendar.ics?language=en").text.replace("\r\n ", "")
    assert "This copy does not follow" in file
    assert "/c/" not in file


def test_a_new_link_gives_the_same_events_and_the_shops_mail_sends_them(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock, tmp_path
):
    """A phone that adds the calendar again replaces what it has."""
    before = events(stranger, home)
    act = Act(clock.on(minutes=5), 1)
    customer_link.renew(store, act, shop.read(store), job.ticket_id, tmp_path)
    with store.write_tx():
        settings.put(store, "mail", {"sender": "shop@example.org"})
    key = link_token.link_key(tmp_path)
    after = events(stranger, link_token.link_token(key, tickets.get(store, job.ticket_id), 2))
    assert after.keys() == before.keys()
    for event in after.values():
        assert event.organizer.value == "mailto:shop@example.org"
        assert event.organizer.params["CN"] == ["Quillmarsh Leather Bench"]
