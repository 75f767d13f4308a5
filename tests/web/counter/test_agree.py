"""Can it be done?, Agree and the papers by forms; and a paper job put in."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader
from support.cast import Counter
from support.counter_forms import agreed, agreement, fresh, measured, taken_in
from support.paper_text import text_of

from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.store import bills, items, tags, tickets
from fitcounter.store.database import Store


def test_the_answer_says_one_sentence_two_days_the_price_and_its_ceiling(
    owner: Counter, counter: Counter, store: Store
):
    fit_id = measured(counter)
    page = counter.get(f"/fits/{fit_id}/verdict").text
    for words in (
        "Promised day",
        "without asking you",
        "What may happen with these boots",
        "What would change the answer",
        "Every number",
        "shop&#39;s choice",
    ):
        assert words in page, words
    assert "your calf" not in page.lower()


def test_before_the_tape_there_is_no_answer_and_no_agreement(counter: Counter):
    fit_id = taken_in(counter)
    for path in (f"/fits/{fit_id}/verdict", "/tickets/1/agree"):
        answer = counter.get(path)
        assert answer.status_code == 422
        assert "not measured yet" in answer.text
    answer = counter.post("/tickets/1/agree", submission_id=fresh(), name="Marisol", agreed="y")
    assert answer.status_code == 422
    assert "Yes, save it" not in answer.text, "it is no question: it would be refused again"


def test_agreed_the_ticket_has_its_papers(counter: Counter, store: Store):
    ticket_id = agreed(counter)
    page = counter.get(f"/tickets/{ticket_id}").text
    for paper in ("tags", "claim", "consent"):
        assert f"/tickets/{ticket_id}/{paper}.pdf" in page
    assert {one.state for one in items.of_ticket(store, ticket_id)} == {"queued"}
    assert tickets.get(store, ticket_id).promise_day is not None


def test_agreed_twice_by_one_tap_is_agreed_once(counter: Counter, store: Store):
    measured(counter)
    form = agreement(counter, 1)
    assert [counter.post("/tickets/1/agree", **form).status_code for _ in range(2)] == [303, 303]
    assert len(bills.payments(store, 1)) == 1
    again = counter.post("/tickets/1/agree", **{**form, "submission_id": fresh()})
    assert again.status_code in (409, 422)
    assert len(bills.payments(store, 1)) == 1


def test_a_stranger_and_the_bench_agree_nothing(
    counter: Counter, stranger: Counter, bench: Counter, store: Store
):
    fit_id = measured(counter)
    form = agreement(counter, 1)
    stranger.get("/sign-in")
    for path in ("/tickets/1/agree", f"/fits/{fit_id}/decline"):
        assert stranger.post(path, **form).status_code == 401
        assert bench.post(path, **form).status_code == 403
    for paper in ("tags", "claim", "consent"):
        assert stranger.get(f"/tickets/1/{paper}.pdf").status_code == 303
    assert tickets.consents(store, 1) == []
    assert counter.get(f"/fits/{fit_id}/decline").status_code == 405


def test_a_ticket_changed_meanwhile_is_two_people_and_both_texts_are_there(
    counter: Counter, store: Store
):
    measured(counter)
    form = agreement(counter, 1)
    with store.write_tx():
        store.change("tickets", 1, 1, note="she called")
    answer = counter.post("/tickets/1/agree", **form)
    assert answer.status_code == 409
    assert "Marisol Okafor-Lind" in answer.text
    assert tickets.consents(store, 1) == []


def test_declined_they_go_back_tagged(counter: Counter, store: Store):
    fit_id = measured(counter)
    counter.get(f"/fits/{fit_id}/verdict")
    too_long = counter.post(f"/fits/{fit_id}/decline", submission_id=fresh(), why="x" * 201)
    assert too_long.status_code == 422
    assert "x" * 201 in too_long.text
    form = {"submission_id": fresh(), "why": "too dear"}
    assert [counter.post(f"/fits/{fit_id}/decline", **form).status_code for _ in range(2)] == [
        303,
        303,
    ]
    assert {one.state for one in items.of_ticket(store, 1)} == {"declined"}
    assert tags.of_item(store, 1) is not None


@pytest.mark.skipif(documents_ticket.ready() != "", reason=documents_ticket.ready())
def test_the_papers_are_pdfs_that_say_her_number(owner: Counter, counter: Counter, store: Store):
    ticket_id = agreed(counter)
    claim = counter.get(f"/tickets/{ticket_id}/claim.pdf")
    assert claim.mimetype == "application/pdf"
    assert "claim-check-1.pdf" in claim.headers["Content-Disposition"]
    said = text_of(claim.data)
    assert "Marisol Okafor-Lind" in said
    assert "$90.00" in said
    assert "wider, not longer" in text_of(counter.get(f"/tickets/{ticket_id}/consent.pdf").data)
    owner.get("/shop/choices")
    owner.post("/shop/choices", slip_paper="roll58")
    roll = PdfReader(io.BytesIO(counter.get(f"/tickets/{ticket_id}/claim.pdf").data))
    assert (len(roll.pages), round(roll.pages[0].mediabox.width / 72 * 25.4)) == (1, 58)
    labels = counter.get(f"/tickets/{ticket_id}/tags.pdf")
    assert len(PdfReader(io.BytesIO(labels.data)).pages) == 2
    assert (
        len(
            PdfReader(
                io.BytesIO(counter.get(f"/tickets/{ticket_id}/tags.pdf?paper=letter").data)
            ).pages
        )
        == 1
    )


def test_where_no_pdf_can_be_made_a_page_says_so_and_can_be_printed(
    counter: Counter, store: Store, monkeypatch: pytest.MonkeyPatch
):
    """The same papers as pages that link their style, in her language, with her signature's picture
    inside.
    """
    ticket_id = agreed(counter)
    monkeypatch.setattr(documents_ticket, "ready", lambda: "PDFs need the library Pango.")
    for paper, words in (
        ("claim", "Your number"),
        ("tags", "Left"),
        ("consent", "wider, not longer"),
    ):
        page = counter.get(f"/tickets/{ticket_id}/{paper}.pdf")
        assert page.status_code == 200
        assert page.mimetype == "text/html"
        assert "PDFs need the library Pango." in page.text
        assert words in page.text
    with store.write_tx():
        store.db.execute("UPDATE customers SET language = 'es'")
        store.db.execute(
            "UPDATE tickets SET handed_over_at = '2026-04-02T14:00:00Z', guarantee_end ="
            " '2027-04-02'"
        )
    for paper, words in (
        ("claim", "Tu número"),
        ("consent", "Lo que puede pasar"),
        ("receipt", "Recibo, número 1"),
    ):
        page = counter.get(f"/tickets/{ticket_id}/{paper}.pdf")
        assert (page.status_code, page.mimetype) == (200, "text/html"), paper
        assert '<html lang="es">' in page.text, paper
        assert words in page.text, paper
        assert "<style" not in page.text, "the strict policy would drop it"
        assert "print.css" in page.text, paper


def test_papers_of_a_ticket_that_has_none_are_not_found(counter: Counter):
    measured(counter)
    for paper in ("tags", "consent"):
        assert counter.get(f"/tickets/1/{paper}.pdf").status_code == 404
    assert counter.get("/tickets/99/claim.pdf").status_code == 404


def test_today_has_a_line_for_every_open_ticket(counter: Counter, bench: Counter):
    agreed(counter)
    for who in (counter, bench):
        page = who.get("/?all=1").text
        assert "Marisol Okafor-Lind" in page
        assert "waiting for the bench" in page
    assert counter.get("/tickets/0").status_code == 404
    assert counter.get("/tickets/999999999999999999999").status_code == 404
