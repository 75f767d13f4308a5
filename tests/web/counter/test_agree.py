"""Can it be done?, Agree and the papers by forms; and a paper job put in."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader
from support.cast import Counter
from support.counter_forms import agreed, agreement, errors, fresh, measured, taken_in, value

from fitcounter.desk.documents import ticket as documents_ticket
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


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"agreed": ""}, "when the customer has read"),
        ({"name": ""}, "stands for their yes"),
        ({"deposit": "lots"}, "Type an amount"),
        ({"deposit": "20", "method": ""}, "Pick how it was paid"),
        ({"deposit": "91"}, "more than the price"),
        ({"line_0_amount": ""}, "Type the price, or 0 if it is free."),
        ({"line_0_amount": "9000"}, "Tick this if it is right."),
        ({"deposit": "12.345"}, "Type an amount"),
        ({"deposit": "٣"}, "Type an amount"),
        ({"promise": "soon"}, "year-month-day"),
        ({"promise": "2026-03-01"}, "has passed"),
        ({"line_0_amount": "-5"}, "Type an amount"),
        ({"line_1_amount": "5"}, "what this amount is for"),
        ({"tag_1": "7K3M-9QXW-F"}, "not as on the tag"),
        ({"tag_1": "7K3M-9QXW-E"}, "No tag"),
        ({"signature": "data:text/html,x"}, "Sign again"),
    ],
)
def test_what_cannot_be_taken_is_said_and_all_that_was_typed_is_still_there(
    counter: Counter, store: Store, changes: dict[str, object], says: str
):
    measured(counter)
    form = agreement(counter, 1, initials="MO", **changes)
    answer = counter.post("/tickets/1/agree", **form)
    assert answer.status_code == 422
    assert says in " ".join(errors(answer)), errors(answer)
    for name in (
        "deposit",
        "promise",
        "initials",
        "line_0_what",
        "line_0_amount",
        "line_1_amount",
        "tag_1",
        "name",
    ):
        assert value(answer.text, name) == str(form.get(name, ""))
    assert tickets.consents(store, 1) == []
    assert bills.lines(store, 1) == []
    assert items.get(store, 1).state == "counter"


def test_a_line_can_be_changed_added_and_emptied(counter: Counter, store: Store):
    measured(counter)
    form = agreement(
        counter,
        1,
        line_0_amount="99,50",
        line_1_what="Straps, as she likes",
        line_1_amount="$40",
        deposit="",
    )
    assert counter.post("/tickets/1/agree", **form).status_code == 303
    assert [(line.what, line.amount_minor) for line in bills.lines(store, 1)] == [
        ("Stretching the pair, up to 2 rounds", 9950),
        ("Straps, as she likes", 4000),
    ]
    assert bills.payments(store, 1) == []


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


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


@pytest.mark.skipif(documents_ticket.ready() != "", reason=documents_ticket.ready())
def test_the_papers_are_pdfs_that_say_her_number(owner: Counter, counter: Counter, store: Store):
    ticket_id = agreed(counter)
    claim = counter.get(f"/tickets/{ticket_id}/claim.pdf")
    assert claim.mimetype == "application/pdf"
    assert "claim-check-1.pdf" in claim.headers["Content-Disposition"]
    said = text_of(claim.data)
    assert "Marisol Okafor-Lind" in said
    assert "$90.00" in said
    assert "wider, not longer" in text_of(
        counter.get(f"/tickets/{ticket_id}/consent.pdf").data
    ).replace("\n", " ")
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


def already(**changes: object) -> dict[str, object]:
    return {
        "submission_id": fresh(),
        "phone": "(412) 555-0142",
        "name": "Tobias Renwick",
        "boots": "pair",
        "material": "oiled",
        "closure": "zip",
        "lining": "leather",
        "state_left": "resting",
        "since_left": "2026-03-16",
        "state_right": "shelved",
        "since_right": "2026-03-15",
        "shelf_right": "C2",
        "promised": "2026-04-10",
        "total": "90",
        "paid": "45",
        **changes,
    }


def test_a_paper_job_is_put_in_once_and_tagged(counter: Counter, store: Store):
    counter.get("/already")
    form = already()
    assert [counter.post("/already", **form).status_code for _ in range(2)] == [303, 303]
    left, right = items.of_ticket(store, 1)
    assert (left.state, right.state, right.shelf) == ("resting", "shelved", "C2")
    assert tags.of_item(store, left.id) is not None
    page = counter.get("/tickets/1").text
    for words in ("Tobias Renwick", "$45.00", "resting", "shelf C2"):
        assert words in page


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"name": ""}, "name on the slip"),
        ({"phone": "+"}, "phone number, like"),
        ({"since_left": ""}, "since when"),
        ({"since_left": "2026-03-18"}, "today at the latest"),
        ({"state_left": "lost"}, "Not a valid choice"),
        ({"state_left": "on-tree"}, "tree’s label"),
        ({"state_left": "on-tree", "tree_left": "9"}, "No tree"),
        ({"total": "much"}, "Type an amount"),
        ({"promised": "2026-02-30"}, "year-month-day"),
    ],
)
def test_a_paper_job_that_cannot_be_taken_stays_on_the_page(
    counter: Counter, store: Store, changes: dict[str, object], says: str
):
    counter.get("/already")
    answer = counter.post("/already", **already(**changes))
    assert answer.status_code == 422
    assert says in " ".join(errors(answer)), errors(answer)
    assert value(answer.text, "total") == already(**changes)["total"]
    assert value(answer.text, "since_right") == "2026-03-15"
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_a_stranger_and_the_bench_put_nothing_in(stranger: Counter, bench: Counter, store: Store):
    stranger.get("/sign-in")
    assert stranger.post("/already", **already()).status_code == 401
    assert bench.post("/already", **already()).status_code == 403
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_today_has_a_line_for_every_open_ticket(counter: Counter, bench: Counter):
    agreed(counter)
    for who in (counter, bench):
        page = who.get("/?all=1").text
        assert "Marisol Okafor-Lind" in page
        assert "waiting for the bench" in page
    assert counter.get("/tickets/0").status_code == 404
    assert counter.get("/tickets/999999999999999999999").status_code == 404
