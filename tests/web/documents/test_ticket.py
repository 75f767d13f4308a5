"""Papers from the Shop's page and beside each ticket: made from the rows, readable, and refused
with a sentence where there is nothing.
"""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.paper_text import text_of
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.tickets import payments
from fitcounter.store import tags
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


def text(answer) -> str:
    assert answer.status_code == 200, answer.text
    assert answer.mimetype == "application/pdf"
    return text_of(answer.data)


def test_tags_made_in_advance_are_sets_of_one_number_that_no_ticket_takes(
    bench: Counter, store: Store, job: Job
):
    bench.get("/papers")
    assert bench.post("/papers", sets="2", submission_id="tags-0001").status_code == 303
    assert bench.post("/papers", sets="2", submission_id="tags-0001").status_code == 303
    made = [(one.number, one.side) for one in tags.free(store)]
    assert made == [(2, "left"), (2, "right"), (2, None), (3, "left"), (3, "right"), (3, None)]
    printed = text(bench.get("/papers/tags.pdf"))
    assert printed.count("LEFT") + printed.count("Left") >= 2
    for one in tags.free(store):
        assert one.code[:4] in printed


@pytest.mark.parametrize("typed", ["", "0", "many", "1000", "-2", "1.5"])
def test_how_many_tags_is_asked_again_when_it_cannot_be_read(
    bench: Counter, store: Store, typed: str
):
    bench.get("/papers")
    answer = bench.post("/papers", sets=typed)
    assert answer.status_code == 422
    assert f'value="{typed}"' in answer.text
    assert tags.free(store) == []


def test_tomorrow_can_run_on_the_evening_sheet(bench: Counter, job: Job):
    printed = text(bench.get("/papers/evening.pdf"))
    for words in ("Marisol Okafor-Lind", "(555) 010-0142", "waiting for the bench", "$60.00"):
        assert words in printed


def test_rulers_and_slips_have_the_shops_heights(bench: Counter, store: Store, clock: Clock):
    shop.choose(store, Act(clock.now), heights_mm=[114.3, 228.6, 304.8])
    for which in ("rulers", "slips"):
        printed = text(bench.get(f"/papers/{which}.pdf"))
        assert "12" in printed
    assert "100 mm" in text(bench.get("/papers/rulers.pdf"))


def test_the_receipt_says_until_when_it_is_covered_and_by_what(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    assert counter.get(f"/tickets/{job.ticket_id}/receipt.pdf").status_code == 404
    act = Act(clock.now, 1)
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(frozenset((job.left, job.right, job.bag)), act.at, "Marisol", 6000)
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))
    printed = text(counter.get(f"/tickets/{job.ticket_id}/receipt.pdf"))
    for words in ("March 17, 2027", "Marisol", "$90.00", "$60.00"):
        assert words in printed


def test_what_was_given_back_or_put_right_is_on_the_receipt_and_what_is_owed_follows(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    """90 agreed, 30 and 60 paid, 20 given back and taken off the price, 5.50 too much written down:
    5.50 are still to pay.
    """
    act = Act(clock.now, 1)
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(frozenset((job.left, job.right, job.bag)), act.at, "Marisol", 6000)
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))
    refund = payments.Typed("refund", "20", "the bag's zip sticks")
    payments.write_down(store, act, job.ticket_id, refund)
    correction = payments.Typed("correction", "-5.50", "she gave 54.50")
    payments.write_down(store, act, job.ticket_id, correction)
    printed = text(counter.get(f"/tickets/{job.ticket_id}/receipt.pdf"))
    for words in ("Discount −$20.00", "Refund $20.00", "Correction $5.50", "Balance $5.50"):
        assert words in " ".join(printed.split())
    assert "zip sticks" not in printed, "the reason is the shop's own"


def test_her_leg_card_is_for_her_alone_and_only_when_a_leg_was_read(
    counter: Counter, bench: Counter, store: Store, job: Job, monkeypatch: pytest.MonkeyPatch
):
    """As a PDF; and where none can be made, as a page to print that says what is missing."""
    assert counter.get(f"/tickets/{job.ticket_id}/leg-card.pdf").status_code == 404
    with store.write_tx():
        for side, girth in (("left", 365125), ("right", 368300)):
            store.insert(
                "leg_readings",
                fit_id=job.fit_id,
                side=side,
                height_um=304800,
                height_text="12",
                girth_um=girth,
                girth_text="x",
                unit="in",
                repeat=1,
                read_at="2026-03-17T14:00:00Z",
            )
    printed = text(counter.get(f"/tickets/{job.ticket_id}/leg-card.pdf"))
    for words in ("Marisol", "14 3/8", "14 1/2", "12"):
        assert words in printed
    assert bench.get(f"/tickets/{job.ticket_id}/leg-card.pdf").status_code == 403
    monkeypatch.setattr(documents_ticket, "ready", lambda: "PDFs need the library Pango.")
    page = counter.get(f"/tickets/{job.ticket_id}/leg-card.pdf")
    assert (page.status_code, page.mimetype) == (200, "text/html")
    assert "PDFs need the library Pango." in page.text
    assert page.text.count('>14 <span class="frac">3/8') == 1


def test_a_letter_is_written_only_about_what_is_ready(
    counter: Counter, store: Store, job: Job, clock: Clock, monkeypatch: pytest.MonkeyPatch
):
    """As a PDF, and as a page where none can be made."""
    assert counter.get(f"/tickets/{job.ticket_id}/notice.pdf").status_code == 404
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(clock.now, 1), item_id, "shelved", StepInput(clock.now))
    assert "Marisol Okafor-Lind" in text(counter.get(f"/tickets/{job.ticket_id}/notice.pdf"))
    monkeypatch.setattr(documents_ticket, "ready", lambda: "PDFs need the library Pango.")
    assert (
        "Your items are ready to pick up"
        in counter.get(f"/tickets/{job.ticket_id}/notice.pdf").text
    )


def test_papers_are_the_shops(stranger: Counter, job: Job):
    for path in ("/papers", "/papers/evening.pdf", f"/tickets/{job.ticket_id}/receipt.pdf"):
        assert stranger.get(path).status_code == 303
