"""Claim check, consent form and tags say what was agreed."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.measured_pair import measured_pair
from support.offered_pair import offered, picture, yes

from fitcounter.desk import shop
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.quote import agree
from fitcounter.errors import NotFound
from fitcounter.store.database import Act, Store


def test_the_papers_say_what_was_agreed(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    with pytest.raises(NotFound):
        documents_ticket.tag_sheet(store, here, ticket_id, "https://bench.example")
    with pytest.raises(NotFound):
        documents_ticket.consent_record(store, here, ticket_id, tmp_path)
    offer = offered(store, here, ticket_id)
    agree.agree(store, act, here, ticket_id, yes(offer, signature=picture()), tmp_path)
    check = documents_ticket.claim_check(
        store, here, ticket_id, "https://bench.example", tmp_path, act.at
    )
    assert [(line.what, line.count) for line in check.items] == [
        ("tall boots", 2),
        ("black bag", 1),
    ]
    assert (check.total, check.deposit, check.due) == ("$135.00", "−$30.00", "$105.00")
    assert check.ready_on == offer.promise
    assert check.ceiling == (
        f"We will ask you before it costs more than ${(13500 + offer.further_minor) / 100:.2f}."
        if offer.further_minor
        else ""
    )
    record = documents_ticket.consent_record(store, here, ticket_id, tmp_path)
    assert [(one.side, one.what, one.place) for one in record.findings] == [
        ("left", "zipper worn or stiff", "at the top")
    ]
    assert record.risks == offer.sentences
    assert record.signature_png is not None
    sheet = documents_ticket.tag_sheet(store, here, ticket_id, "https://bench.example")
    assert [(one.number, one.side) for one in sheet.labels] == [
        ("1", "left"),
        ("1", "right"),
        ("1", ""),
    ]
    assert sheet.labels[0].address == f"HTTPS://BENCH.EXAMPLE/T/{sheet.labels[0].code}"
    assert sheet.labels[2].lines[0] == ("job", "new handle")


def test_hours_are_said_in_one_line(store: Store, act: Act, here: shop.Shop):
    assert documents_ticket.head(here).hours == "Tuesday to Saturday, 9:00 AM to 6:00 PM"
    shop.choose(store, act, open_days=[0, 3])
    assert (
        documents_ticket.head(shop.read(store)).hours == "Monday and Thursday, 9:00 AM to 6:00 PM"
    )


def test_the_ceiling_on_her_papers_is_the_one_she_agreed_to(
    store: Store, act: Act, here: shop.Shop, tmp_path: Path
):
    """Of two pairs together, with the tax on what may come, and whatever a go costs by the time it
    is printed again.
    """
    shop.choose(store, act, rounds_included=1, tax_basis_points=1000)
    then = shop.read(store)
    ticket, _ = measured_pair(store, act)
    other, fit_id = measured_pair(store, act)
    with store.write_tx():
        store.change("tickets", ticket, tax_basis_points=1000)
        store.change("fits", fit_id, ticket_id=ticket)
        store.db.execute(
            "UPDATE items SET ticket_id = ?, letter = 'B' WHERE ticket_id = ?", [ticket, other]
        )
    offer = offered(store, then, ticket)
    assert (
        offer.further_minor
        == sum(one.eight_in_ten - 1 for one in offer.answers) * then.round_minor
        > then.round_minor
    )
    agree.agree(store, act, then, ticket, yes(offer), tmp_path)
    shop.choose(store, act, round_minor=9900, rounds_included=2, max_rounds=1)
    now = shop.read(store)
    most = f"We will ask you before it costs more than ${offer.ceiling_minor * 1.1 / 100:.2f}."
    assert (
        documents_ticket.claim_check(
            store, now, ticket, "https://boots.example", tmp_path, act.at
        ).ceiling
        == most
    )
    assert documents_ticket.consent_record(store, now, ticket, tmp_path).ceiling == most
