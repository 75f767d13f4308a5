"""Her details: name, number, e-mail, language and note put right, found by the new ones at once,
and never in anybody's way.
"""

from __future__ import annotations

from html import unescape
from urllib.parse import quote

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.details_form import HER, RIGHT, form, her, page_of, shelved_job
from support.ticket_rows import Job

from fitcounter.desk.common import mail
from fitcounter.desk.data import erasure
from fitcounter.store import integrity
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return shelved_job(store, Act(clock.now, 1))


def test_the_ticket_leads_to_the_form_and_all_five_are_put_right(
    counter: Counter, store: Store, job: Job
):
    assert page_of(job) in counter.get(f"/tickets/{job.ticket_id}").text
    shown = unescape(counter.get(page_of(job)).text)
    assert all(f'value="{HER[name]}"' in shown for name in ("name", "phone"))
    answer = counter.post(page_of(job), **form(store, job, **RIGHT))
    assert (answer.status_code, answer.location) == (303, f"/tickets/{job.ticket_id}")
    now = her(store, job)
    assert {
        "name": now.name,
        "phone": now.phone_typed,
        "email": now.email,
        "language": now.language,
        "note": now.note,
    } == RIGHT
    assert (now.phone_last4, now.version) == ("0177", 2)
    assert "details are saved." in counter.get(answer.location).text


@pytest.mark.parametrize(
    ("new", "old"),
    [("0177", "0142"), ("maryse", "marisol"), ("o briain", "okafor"), ("marise", "marizol")],
)
def test_she_is_found_by_the_new_name_and_number_and_no_more_by_the_old(
    counter: Counter, store: Store, job: Job, new: str, old: str
):
    """Names by a piece, without accents, with one slip; numbers by the last four."""
    ticket = f'href="/tickets/{job.ticket_id}"'
    assert ticket in counter.get(f"/find?q={quote(old)}").text
    counter.post(page_of(job), **form(store, job, **RIGHT))
    assert ticket in counter.get(f"/find?q={quote(new)}").text
    assert ticket not in counter.get(f"/find?q={quote(old)}").text


def test_new_job_knows_her_by_the_new_number(counter: Counter, store: Store, job: Job):
    counter.get(page_of(job))
    counter.post(page_of(job), **form(store, job, **RIGHT))
    page = counter.post(
        "/new", find="1", draft=fresh(), submission_id=fresh(), phone="412 555 0177"
    ).text
    assert "Returning customer" in page
    assert "call after five" in page


def test_a_call_offers_an_e_mail_with_her_words_once_there_is_one(
    counter: Counter, store: Store, job: Job
):
    call = f"/tickets/{job.ticket_id}/call"
    assert "mailto:" not in counter.get(call).text
    counter.post(
        page_of(job),
        **form(store, job, email="maryse+boots@example.org", language="es", note="call after five"),
    )
    page = unescape(counter.get(call).text)
    assert 'href="mailto:maryse%2Bboots@example.org?subject=' in page
    assert "&body=Hola%2C%20Marisol" in page
    assert "call after five" in page


@pytest.mark.parametrize(
    "held", ["a@b.c?bcc=x@y.z", "a%0abcc:x@y.z", "a@b.c\nbcc: x", "a@b.c,x@y.z", "nobody"]
)
def test_what_is_no_address_never_gets_into_the_link(
    counter: Counter, store: Store, job: Job, held: str
):
    """Whatever the file holds, from wherever it came."""
    with store.write_tx():
        store.change("customers", her(store, job).id, email=held)
    assert "mailto:" not in counter.get(f"/tickets/{job.ticket_id}/call").text


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("name", "", "Type the customer’s name."),
        ("name", "N" * 81, "Type 80 characters at most"),
        ("phone", "five five five", "Type the phone number, like"),
        ("email", "maryse", mail.ADVICE),
        ("email", "@example.org", mail.ADVICE),
        ("email", "maryse@", mail.ADVICE),
        ("email", "a@b@c", mail.ADVICE),
        ("email", "mary se@example.org", mail.ADVICE),
        ("email", "a@example.org\nbcc: b@example.org", mail.ADVICE),
        ("email", "a@example.org%0abcc=b", mail.ADVICE),
        ("email", "a,b@example.org", mail.ADVICE),
        ("email", "a@example.org?bcc=b", mail.ADVICE),
        ("email", "a" * 243 + "@example.org", "Type 254 characters at most"),
        ("language", "xx", "Pick one of the languages on the page."),
        ("note", "n" * 1001, "Type 1000 characters at most"),
    ],
)
def test_bad_input_says_what_to_type_keeps_it_all_and_stores_nothing(
    counter: Counter, store: Store, job: Job, field: str, typed: str, words: str
):
    counter.get(page_of(job))
    before = integrity.content_hash(store)
    answer = counter.post(page_of(job), **form(store, job, **{**RIGHT, field: typed}))
    page = unescape(answer.text)
    assert answer.status_code == 422
    assert words in page
    for name, value in {**RIGHT, field: typed}.items():
        shown = f'value="{value}"' if name != "language" else f'selected value="{value}"'
        assert shown in page or (name, value) == ("language", "xx"), name
    assert integrity.content_hash(store) == before


def test_an_e_mail_of_254_characters_is_taken(counter: Counter, store: Store, job: Job):
    counter.get(page_of(job))
    longest = "a" * 242 + "@example.org"
    assert counter.post(page_of(job), **form(store, job, email=longest)).status_code == 303
    assert her(store, job).email == longest


def test_sent_twice_it_is_changed_once_even_after_somebody_else(
    counter: Counter, store: Store, job: Job
):
    counter.get(page_of(job))
    once = form(store, job, **RIGHT)
    assert counter.post(page_of(job), **once).status_code == 303
    assert counter.post(page_of(job), **once).status_code == 303
    assert counter.post(page_of(job), **form(store, job, name="Maud")).status_code == 303
    assert counter.post(page_of(job), **once).status_code == 303
    assert (her(store, job).name, her(store, job).version) == ("Maud", 3)


def test_nothing_of_one_who_was_erased(counter: Counter, store: Store, job: Job, clock: Clock):
    counter.get(page_of(job))
    late = form(store, job, **RIGHT)
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="out")
    erasure.erase(store, Act(clock.now), her(store, job).id, HER["name"])
    assert page_of(job) not in counter.get(f"/tickets/{job.ticket_id}").text
    assert counter.get(page_of(job)).status_code == 404
    assert counter.post(page_of(job), **late).status_code == 404
    assert (her(store, job).name, her(store, job).email) == ("erased", "")


def test_the_bench_and_a_stranger_are_refused_and_the_bench_sees_no_way_in(
    bench: Counter, stranger: Counter, store: Store, job: Job
):
    assert page_of(job) not in bench.get(f"/tickets/{job.ticket_id}").text
    assert bench.get(page_of(job)).status_code == 403
    assert bench.post(page_of(job), **form(store, job, **RIGHT)).status_code == 403
    assert stranger.get(page_of(job)).status_code == 303
    stranger.get("/sign-in")
    assert stranger.post(page_of(job), **form(store, job, **RIGHT)).status_code == 401
    assert her(store, job).name == HER["name"]


def test_looking_with_words_in_the_address_writes_nothing(counter: Counter, store: Store, job: Job):
    counter.get(page_of(job))
    before = integrity.content_hash(store)
    assert (
        counter.get(f"{page_of(job)}?name=Maud&submission_id={fresh()}&version=1").status_code
        == 200
    )
    assert integrity.content_hash(store) == before
