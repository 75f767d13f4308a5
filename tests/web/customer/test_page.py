"""The customer's page: the right thing at the right time, nothing private, and every form keeps
what was typed.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.store import contacts
from fitcounter.store.database import Store


def test_before_pickup_she_reads_where_each_thing_is_and_when_it_is_expected(
    stranger: Counter, store: Store, job: Job, token: str
):
    with store.write_tx():
        store.change("tickets", job.ticket_id, promise_day="2026-04-14")
    page = stranger.get(f"/c/{token}").text
    assert "Marisol, your boots" in page
    assert page.count("At the shop, next in line.") == 3
    assert "Everything should be ready on Tue, Apr 14." in page
    with store.write_tx():
        store.change("items", job.bag, promised_day="2026-04-02")
    page = stranger.get(f"/c/{token}").text
    assert "Everything should be ready on Tue, Apr 14." in page
    assert page.count(" Ready ") == 1
    assert "Ready Thu, Apr 2." in page


def test_nothing_on_it_is_private_and_no_other_site_learns_the_address(
    stranger: Counter, home: str
):
    answer = stranger.get(f"/c/{home}")
    for private in ("Okafor", "0142", "14 3/8", "$"):
        assert private not in answer.text
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer.headers["X-Robots-Tag"]
    assert answer.headers["Cache-Control"] == "no-store"


def test_after_pickup_it_says_when_the_first_wear_is(stranger: Counter, home: str, clock: Clock):
    assert "Let your boots rest until Tue, Mar 17, 6:00 PM." in stranger.get(f"/c/{home}").text
    clock.on(hours=9)
    assert "Today, wear your boots for 30 minutes" in stranger.get(f"/c/{home}").text


def test_what_she_wore_is_kept_and_the_next_wear_waits_a_day(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
):
    clock.on(hours=9)
    stranger.get(f"/c/{home}")
    for _ in range(2):
        assert (
            stranger.post(
                f"/c/{home}/wear", n="1", minutes="30", submission_id="wear-0001"
            ).status_code
            == 303
        )
    plan = wear_calendar.current(store, job.ticket_id, clock.now).plan
    assert [(one.state, one.actual_minutes) for one in plan.wears][:2] == [
        ("worn", 30),
        ("planned", None),
    ]
    assert "You wore them 30 minutes" in stranger.get(f"/c/{home}").text


def test_a_slip_in_the_minutes_is_said_and_kept(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
):
    clock.on(hours=9)
    stranger.get(f"/c/{home}")
    answer = stranger.post(f"/c/{home}/wear", n="1", minutes="half an hour", put_on="18:05")
    assert answer.status_code == 422
    assert "Type the minutes as a number" in answer.text
    assert 'value="half an hour"' in answer.text
    assert 'value="18:05"' in answer.text
    assert wear_calendar.current(store, job.ticket_id, clock.now).plan.wears[0].state == "planned"


def test_not_today_moves_everything_by_a_day(stranger: Counter, home: str, clock: Clock):
    clock.on(hours=9)
    stranger.get(f"/c/{home}")
    assert stranger.post(f"/c/{home}/not-today", n="1").status_code == 303
    assert "Let your boots rest until Wed, Mar 18" in stranger.get(f"/c/{home}").text


def test_she_chooses_the_hour_she_is_at_home(stranger: Counter, home: str):
    stranger.get(f"/c/{home}")
    assert stranger.post(f"/c/{home}/hour", evening="20:15").status_code == 303
    assert "8:15 PM" in stranger.get(f"/c/{home}").text
    assert stranger.post(f"/c/{home}/hour", evening="late").status_code == 422


def test_what_does_not_feel_right_is_on_the_shops_list(
    stranger: Counter, store: Store, home: str, job: Job
):
    stranger.get(f"/c/{home}")
    assert (
        stranger.post(f"/c/{home}/not-right", spot="left-ankle", said="it rubs").status_code == 303
    )
    last = [
        one
        for one in contacts.follow_ups_of_ticket(store, job.ticket_id)
        if one.kind == "not-right"
    ]
    assert [(one.side, one.place, one.said) for one in last] == [("left", "ankle", "it rubs")]
    assert stranger.post(f"/c/{home}/not-right").status_code == 422


def test_in_spanish_when_she_chooses_it_and_it_stays_so(stranger: Counter, home: str):
    first = stranger.get(f"/c/{home}?language=es").text
    assert 'lang="es"' in first
    assert "Marisol, tus botas" in first
    assert "tus botas" in stranger.get(f"/c/{home}").text


@pytest.mark.parametrize(
    ("phone", "written", "spoken"),
    [
        ("es-MX,es;q=0.9,en;q=0.8", "en", "es"),
        ("fr-FR,fr", "en", "en"),
        ("en-US", "es", "es"),
        ("", "en", "en"),
    ],
)
def test_the_first_page_speaks_the_phones_language_where_the_shop_wrote_down_no_other(
    stranger: Counter, store: Store, home: str, phone: str, written: str, spoken: str
):
    with store.write_tx():
        store.db.execute("UPDATE customers SET language = ?", [written])
    answer = stranger.client.get(f"/c/{home}", headers={"Accept-Language": phone})
    assert f'<html lang="{spoken}"' in answer.text.replace('lang="en-US"', 'lang="en"')


def test_what_is_wrong_is_said_in_the_language_of_the_page(stranger: Counter, home: str):
    stranger.get(f"/c/{home}?language=es")
    assert "Basta una palabra." in stranger.post(f"/c/{home}/not-right").text
    early = stranger.post(f"/c/{home}/wear", n="1", minutes="30", put_on="08:00").text
    assert "Eso es antes de recoger las botas." in early
    assert "Este enlace no funciona." in stranger.get("/c/" + "A" * 22).text


def test_an_unknown_and_a_revoked_link_say_the_same(
    stranger: Counter, store: Store, job: Job, token: str
):
    unknown = stranger.get("/c/" + "A" * 22)
    with store.write_tx():
        store.change("tickets", job.ticket_id, link_revoked_at="2026-03-17T00:00:00Z")
    revoked = stranger.get(f"/c/{token}")
    tidy = [re.sub(r'content="[^"]+"|value="[^"]+"', "", one.text) for one in (unknown, revoked)]
    assert (unknown.status_code, revoked.status_code) == (404, 404)
    assert tidy[0] == tidy[1]


def test_a_link_ends(stranger: Counter, store: Store, job: Job, token: str, clock: Clock):
    with store.write_tx():
        store.change("tickets", job.ticket_id, link_until="2026-03-18T00:00:00Z")
    clock.now += timedelta(days=2)
    assert stranger.get(f"/c/{token}").status_code == 410


def test_its_forms_refuse_get_and_the_shop_is_not_reached_by_her_link(stranger: Counter, home: str):
    for path in ("wear", "not-today", "hour", "not-right"):
        assert stranger.get(f"/c/{home}/{path}").status_code == 405
    assert stranger.get("/").status_code == 303


def test_every_place_on_either_drawn_boot_is_a_choice_with_words(
    stranger: Counter, store: Store, home: str
):
    """Five places on two boots, each told apart by its words alone; what was picked stays picked
    where words were missing.
    """
    page = stranger.get(f"/c/{home}").text
    choices = re.findall(r'name="spot" value="(\w+-\w+)"><span class="vh">([^<]+)</span>', page)
    assert len(choices) == len({words for _, words in choices}) == 10
    assert ("right-calf", "Right boot: At the calf") in choices
    assert stranger.post(f"/c/{home}/not-right", spot="right-calf").status_code == 303
    assert stranger.post(f"/c/{home}/not-right", spot="", said="both press").status_code == 303
    assert stranger.post(f"/c/{home}/not-right", spot="left-moon", said="odd").status_code == 303
    told = [
        (one.side, one.place, one.said)
        for one in contacts.due_follow_ups(store, date(2026, 3, 17))
        if one.kind == "not-right"
    ]
    assert told == [("right", "calf", ""), (None, "", "both press"), (None, "", "odd")]
    empty = stranger.post(f"/c/{home}/not-right", spot="")
    assert empty.status_code == 422
    assert "One word is enough" in empty.text
