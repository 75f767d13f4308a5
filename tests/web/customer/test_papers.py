"""The papers she takes home speak her language: every sentence of ours, each day, and what the
shop's file holds in English.
"""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader
from support.cast import Clock, Counter
from support.paper_text import text_of
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.quote import consent
from fitcounter.store import bills, tickets
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    """A job of a customer who reads Spanish, seen, agreed, measured and ready."""
    act = Act(clock.now, 1)
    job = make_job(store, act, name="Marisol")
    with store.write_tx():
        customer = tickets.get(store, job.ticket_id).customer_id
        store.change("customers", customer, language="es")
        bills.add_line(
            store, job.ticket_id, NewLine("Stretching the pair, up to 2 goes", "flat", 4500)
        )
        bills.add_line(store, job.ticket_id, NewLine("Gift wrap {for} her", "flat", 100))
        store.insert(
            "findings", item_id=job.left, moment="before", word="zip-worn", seen_at=act_time(act)
        )
        tickets.add_consent(
            store,
            act,
            job.ticket_id,
            consent.TEXT_VERSION,
            consent.ALWAYS,
            name="Marisol",
            initials="MO",
        )
        for side in ("left", "right"):
            reading = {
                "height_um": 304800,
                "height_text": "12",
                "girth_um": 390000,
                "girth_text": "15 3/8",
                "unit": "in",
                "repeat": 1,
            }
            store.insert(
                "leg_readings", fit_id=job.fit_id, side=side, read_at=act_time(act), **reading
            )
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    return job


def act_time(act: Act) -> str:
    return act.at.strftime("%Y-%m-%dT%H:%M:%SZ")


def read(answer) -> tuple[str, str]:
    """The language and the words of a PDF."""
    assert answer.status_code == 200, answer.text
    pdf = PdfReader(io.BytesIO(answer.data))
    return str(pdf.trailer["/Root"]["/Lang"]), text_of(answer.data)


def test_the_claim_check_is_in_spanish(counter: Counter, job: Job):
    language, words = read(counter.get(f"/tickets/{job.ticket_id}/claim.pdf"))
    assert language == "es"
    for part in (
        "Comprobante",
        "Tu número",
        "botas altas",
        "Ensanchar el par, hasta 2 veces",
        "Gift wrap {for} her",
        "De martes a sábado",
    ):
        assert part in words


def test_the_consent_is_in_spanish_with_the_words_that_were_signed(counter: Counter, job: Job):
    language, words = read(counter.get(f"/tickets/{job.ticket_id}/consent.pdf"))
    assert language == "es"
    assert "Podemos ensanchar las botas, no alargarlas." in words
    assert "cremallera gastada o dura" in words
    assert "Firmaste este texto en inglés:" in words
    assert "We can make boots wider, not longer." in words


def test_the_leg_card_and_the_letter_are_in_spanish(counter: Counter, job: Job):
    language, words = read(counter.get(f"/tickets/{job.ticket_id}/leg-card.pdf"))
    assert language == "es"
    assert "una caña de al menos" in words
    assert "la pierna desnuda" in words
    language, words = read(counter.get(f"/tickets/{job.ticket_id}/notice.pdf"))
    assert language == "es"
    assert "Tus cosas están listas para recoger" in words


def test_the_receipt_is_in_spanish_and_adds_up(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    with store.write_tx():
        store.change("tickets", job.ticket_id, tax_basis_points=1000)
    handed = pickup.Handover(
        frozenset({job.left, job.right, job.bag}), clock.now, "Marisol", preset="three-short-wears"
    )
    pickup.hand_over(store, Act(clock.now, 1), job.ticket_id, handed, shop.read(store))
    language, words = read(counter.get(f"/tickets/{job.ticket_id}/receipt.pdf"))
    assert language == "es"
    for part in (
        "Recibo, número",
        "Con garantía hasta el",
        "Anticipo",
        "Impuestos $13.60",
        "Total $149.60",
    ):
        assert part in words
