"""Who guesses links waits, and whoever holds one writes a few times an hour."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff.throttle import LINK, LINK_WRITES
from fitcounter.store import tickets


@pytest.fixture
def token(store: Store, clock: Clock, tmp_path: Path) -> str:
    """The link of a ticket whose boots were picked up."""
    job, act = make_job(store, Act(clock.now, 1)), Act(clock.now, 1)
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(frozenset((job.left, job.right, job.bag)), act.at, "Marisol")
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))
    ticket_id = job.ticket_id
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            ticket_id,
            link_hash=link_token.link_hash(made),
            link_until="2027-12-31T00:00:00Z",
        )
    return made


def report(customer: Counter, token: str, n: int) -> tuple[int, str]:
    """Says that something is not right, as whoever holds the link can."""
    customer.get(f"/c/{token}")
    answer = customer.post(f"/c/{token}/not-right", spot="left-ankle", said=f"Pinches {n}")
    return answer.status_code, answer.text


def test_a_link_that_writes_without_pause_waits_and_still_reads(
    stranger: Counter, token: str, clock: Clock
) -> None:
    """The form that had to wait is shown with its words; after a while it is taken."""
    answers = [report(stranger, token, n) for n in range(LINK_WRITES.free + 1)]
    assert [code for code, _ in answers] == [303] * LINK_WRITES.free + [429]
    assert "You saved many times within an hour. Wait 5 minutes" in answers[-1][1]
    assert f"Pinches {LINK_WRITES.free}" in answers[-1][1]
    assert stranger.get(f"/c/{token}").status_code == 200
    clock.on(minutes=5)
    assert report(stranger, token, 99)[0] == 303


def test_it_is_told_to_wait_in_the_language_of_the_page(stranger: Counter, token: str) -> None:
    stranger.client.set_cookie("her-language", "es")
    answers = [report(stranger, token, n) for n in range(LINK_WRITES.free + 1)]
    assert "Has guardado muchas veces en una hora. Espera 5 minutos" in answers[-1][1]


def test_an_address_that_guesses_links_waits(stranger: Counter, token: str, clock: Clock) -> None:
    codes = [stranger.get("/c/" + "A" * 21 + f"{n:02}"[-1]).status_code for n in range(LINK.free)]
    assert set(codes) == {404}
    assert stranger.get(f"/c/{token}").status_code == 429
    clock.on(seconds=LINK.first_s)
    assert stranger.get(f"/c/{token}").status_code == 200
