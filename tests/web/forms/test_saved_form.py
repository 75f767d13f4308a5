"""A text that is too long is said so and stands there to be shortened; nothing of it is cut off in
silence.
"""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, new_id
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.bench import incidents
from fitcounter.desk.common import link_token
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store import contacts, findings, tickets
from fitcounter.store.database import Act, Store

TOO_LONG = "word " * 101
LINES = "\r\n".join(["nine char"] * 50)  # 499 characters, as the page counts them


@pytest.fixture
def record(store: Store, boots: Pair, clock: Clock) -> int:
    incidents.stop(store, Act(clock.now), boots.left, StepInput(clock.now), "a seam burst")
    return findings.incidents_of_item(store, boots.left)[0].id


def test_what_was_agreed_is_kept_whole_or_not_at_all(
    bench: Counter, store: Store, boots: Pair, record: int
) -> None:
    bench.get(f"/incidents/{record}")
    answer = bench.post(
        f"/incidents/{record}", submission_id=new_id(), version="1", agreed=TOO_LONG
    )
    assert answer.status_code == 422
    assert "500 characters at most" in answer.text
    assert TOO_LONG.strip() in answer.text
    assert findings.get_incident(store, record).agreed == ""
    assert (
        bench.post(
            f"/incidents/{record}", submission_id=new_id(), version="1", agreed=LINES
        ).status_code
        == 303
    )
    assert findings.get_incident(store, record).agreed == LINES.replace("\r\n", "\n")


def test_what_she_says_at_a_comeback_is_kept_whole_or_not_at_all(
    counter: Counter, store: Store, boots: Pair
) -> None:
    with store.write_tx():
        store.change("items", boots.left, state="out")
    path = f"/tickets/{boots.ticket_id}/back"
    counter.get(path)
    answer = counter.post(
        path, submission_id=new_id(), said=TOO_LONG, **{f"boot-{boots.left}": "14 1/2"}
    )
    assert answer.status_code == 422
    assert "500 characters at most" in answer.text
    assert TOO_LONG.strip() in answer.text
    assert store.value("SELECT count(*) FROM comebacks") == 0


@pytest.mark.parametrize(
    ("language", "words"),
    [("en", "Write at most 500 characters"), ("es", "500 caracteres como máximo")],
)
def test_what_she_feels_is_kept_whole_or_not_at_all(
    stranger: Counter, store: Store, clock: Clock, tmp_path, language: str, words: str
) -> None:
    job = make_job(store, Act(clock.now, 1), state="out")
    token = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, job.ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            link_hash=link_token.link_hash(token),
            link_until="2027-12-31T00:00:00Z",
        )
    stranger.get(f"/c/{token}")
    answer = stranger.post(
        f"/c/{token}/not-right?language={language}", submission_id=new_id(), spot="", said=TOO_LONG
    )
    assert answer.status_code == 422
    assert words in answer.text
    assert contacts.follow_ups_of_ticket(store, job.ticket_id) == []
    assert (
        stranger.post(
            f"/c/{token}/not-right", submission_id=new_id(), spot="", said=LINES
        ).status_code
        == 303
    )
    assert contacts.follow_ups_of_ticket(store, job.ticket_id)[0].said == LINES.replace(
        "\r\n", "\n"
    )


@pytest.fixture
def ready(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


def test_what_was_said_on_the_phone_has_its_limit_too(
    counter: Counter, store: Store, ready: Job
) -> None:
    counter.get(f"/tickets/{ready.ticket_id}/call")
    answer = counter.post(
        f"/tickets/{ready.ticket_id}/call", submission_id=new_id(), how="called", note=TOO_LONG
    )
    assert answer.status_code == 422
    assert "200 characters at most" in answer.text
    assert TOO_LONG.strip() in answer.text
    assert store.value("SELECT count(*) FROM calls") == 0


def test_an_answer_to_a_follow_up_has_its_limit_too(
    counter: Counter, store: Store, ready: Job, clock: Clock
) -> None:
    with store.write_tx():
        asked = contacts.add_follow_up(store, ready.ticket_id, clock.now.date(), "after-pickup")
    counter.get("/")
    answer = counter.post(f"/follow-ups/{asked}", submission_id=new_id(), answer=TOO_LONG)
    assert answer.status_code == 422
    assert "200 characters at most" in answer.text
    assert TOO_LONG.strip() in answer.text
    assert contacts.follow_ups_of_ticket(store, ready.ticket_id)[0].done_at is None


def test_a_shelf_is_never_cut_short_and_the_shop_closes_after_it_opens(
    owner: Counter, store: Store
) -> None:
    owner.get("/shop/choices")
    answer = owner.post(
        "/shop/choices", submission_id=new_id(), shelves="C1, The long shelf by the window"
    )
    assert answer.status_code == 422
    assert "at most 12 characters" in answer.text
    assert "The long shelf by the window" in answer.text
    answer = owner.post("/shop/choices", submission_id=new_id(), closes_at="08:00")
    assert answer.status_code == 422
    assert "after opening time" in answer.text
    assert (shop.read(store).shelves, shop.read(store).closes_at) == ((), "18:00")
