"""Prices and papers of a job, for whoever knows the last four digits of the customer's phone."""

from __future__ import annotations

from datetime import timedelta

from support.cast import Clock, Counter
from support.ticket_rows import Job

from fitcounter.desk.quote import consent
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store
from fitcounter.web.customer.last_four_digits import OPEN_FOR

PRICES = ("$90", "$30", "$60")


def test_the_link_alone_shows_no_price_and_no_paper(stranger: Counter, token: str) -> None:
    page = stranger.get(f"/c/{token}").text + stranger.get(f"/c/{token}/agreed").text
    assert not [price for price in PRICES if price in page]
    answer = stranger.get(f"/c/{token}/papers/claim-check.pdf")
    assert answer.location == f"/c/{token}/agreed"


def test_wrong_digits_show_nothing_and_stay_in_the_field(stranger: Counter, token: str) -> None:
    stranger.get(f"/c/{token}/agreed")
    answer = stranger.post(f"/c/{token}/agreed", digits="9999")
    assert answer.status_code == 422
    assert "These are not the last four digits" in answer.text
    assert 'value="9999"' in answer.text
    assert "$90" not in answer.text


def test_the_digits_show_price_deposit_and_balance_and_close_again(
    stranger: Counter, token: str, clock: Clock
) -> None:
    """On this phone, for half an hour."""
    stranger.get(f"/c/{token}/agreed")
    assert stranger.post(f"/c/{token}/agreed", digits=" 01 42 ").status_code == 303
    page = stranger.get(f"/c/{token}/agreed").text
    assert all(price in page for price in PRICES)
    assert "The agreement" not in page, "nothing was signed"
    cookie = stranger.client.get_cookie("agreed", path=f"/c/{token}")
    assert cookie is not None
    assert cookie.http_only
    assert cookie.max_age == OPEN_FOR / timedelta(seconds=1)
    assert stranger.client.get_cookie("agreed") is None, "it is sent to no other page"


def test_papers_open_with_the_digits_in_the_customers_language(
    stranger: Counter, store: Store, job: Job, token: str, clock: Clock
) -> None:
    act = Act(clock.now, 1)
    with store.write_tx():
        sentences = (consent.TEXT_VERSION, consent.ALWAYS)
        tickets.add_consent(store, act, job.ticket_id, *sentences, name="Marisol", initials="MO")
    stranger.get(f"/c/{token}/agreed?language=es")
    stranger.post(f"/c/{token}/agreed?language=es", digits="0142")
    page = stranger.get(f"/c/{token}/agreed?language=es").text
    assert "Lo que acordamos" in page
    for name in ("claim-check", "agreement"):
        answer = stranger.get(f"/c/{token}/papers/{name}.pdf")
        assert answer.status_code == 200
        assert answer.data.startswith(b"%PDF")
    assert stranger.get(f"/c/{token}/papers/receipt.pdf").status_code == 404


def test_what_was_opened_for_one_link_opens_no_other(
    stranger: Counter, token: str, clock: Clock
) -> None:
    """The cookie names its ticket and its link."""
    stranger.get(f"/c/{token}/agreed")
    stranger.post(f"/c/{token}/agreed", digits="0142")
    held = stranger.client.get_cookie("agreed", path=f"/c/{token}")
    assert held is not None
    stranger.client.delete_cookie("agreed", path=f"/c/{token}")
    stranger.client.set_cookie("agreed", held.value[:-2] + "AA", path=f"/c/{token}")
    assert "$90" not in stranger.get(f"/c/{token}/agreed").text
