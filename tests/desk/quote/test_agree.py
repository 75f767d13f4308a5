"""Agreeing: one transaction for lines, consent, deposit, tags, link and the steps; and what the
papers then say.
"""

from __future__ import annotations

import base64
import json
import struct
import zlib
from math import ceil
from pathlib import Path

import pytest
from support.measured_pair import measured_pair, take_in
from support.offered_pair import TODAY, offered, pair_and_bag, with_limits, yes

from fitcounter.desk import shop
from fitcounter.desk.common.link_token import link_hash, link_key, link_of, link_token
from fitcounter.desk.documents import bench_card as documents_bench
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.quote import agree, consent, instead_of_stretching, price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.errors import BadInput, Conflict, NotFound, OutOfOrder
from fitcounter.store import bills, items, outcomes, tags, tickets
from fitcounter.store.database import Act, Store


def picture() -> str:
    """The smallest PNG there is, as a page sends it."""

    def part(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = part(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    whole = b"\x89PNG\r\n\x1a\n" + head + part(b"IDAT", zlib.compress(b"\0\0")) + part(b"IEND", b"")
    return "data:image/png;base64," + base64.b64encode(whole).decode()


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    return with_limits(store, act)


@pytest.fixture
def ticket_id(store: Store, act: Act, here: shop.Shop) -> int:
    return pair_and_bag(store, act)


def test_agreeing_keeps_everything_and_sends_all_to_the_bench(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    offer = offered(store, here, ticket_id)
    agree.agree(
        store, act, here, ticket_id, yes(offer, signature=picture(), initials="MO"), tmp_path
    )
    here_now = items.of_ticket(store, ticket_id)
    assert {one.state for one in here_now} == {"queued"}
    assert [
        (line.what, line.amount_minor, line.item_id) for line in bills.lines(store, ticket_id)
    ] == [
        ("Stretching the pair, up to 2 rounds", 9000, None),
        ("black bag: new handle", 4500, here_now[2].id),
    ]
    assert [(one.kind, one.amount_minor) for one in bills.payments(store, ticket_id)] == [
        ("deposit", 3000)
    ]
    (signed,) = tickets.consents(store, ticket_id)
    assert (signed.text_version, signed.name, signed.initials) == (
        consent.TEXT_VERSION,
        "Marisol Okafor-Lind",
        "MO",
    )
    assert json.loads(signed.sentences) == [*offer.noted, *offer.sentences]
    kept = tmp_path / "signatures" / signed.signature_file
    assert kept.stat().st_mode & 0o077 == 0
    assert kept.read_bytes().startswith(b"\x89PNG")
    assert [tags.of_item(store, one.id).side for one in here_now] == ["left", "right", None]
    ticket = tickets.get(store, ticket_id)
    assert (ticket.hope_day, ticket.promise_day) == (
        offer.hope.isoformat(),
        offer.promise.isoformat(),
    )  # type: ignore[union-attr]
    told = outcomes.latest_prediction(store, here_now[0].id)
    assert told is not None
    assert (told["tier"], told["promise_day"]) == ("routine", ticket.promise_day)
    assert told["assessment"]["worst"]["need_in"] == "5/8"


def test_only_the_hash_of_her_link_is_stored_and_the_token_can_be_made_again(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    agree.agree(store, act, here, ticket_id, yes(offered(store, here, ticket_id)), tmp_path)
    link = link_of(store, tickets.get(store, ticket_id), "https://bench.example/", tmp_path)
    assert link is not None
    token = link.rsplit("/", 1)[1]
    assert link == f"https://bench.example/c/{token}"
    assert len(base64.urlsafe_b64decode(token + "==")) == 16
    assert token not in str(store.rows("SELECT * FROM tickets")) + str(
        store.rows("SELECT * FROM audit")
    )
    found = tickets.by_link(store, link_hash(token))
    assert found is not None
    assert found.id == ticket_id
    with store.write_tx():
        store.change("tickets", ticket_id, link_revoked_at="2026-03-18T00:00:00Z")
    assert link_of(store, tickets.get(store, ticket_id), "https://bench.example", tmp_path) is None


def test_another_shops_key_and_another_ticket_give_another_token(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    (tmp_path / "other").mkdir()
    ticket = tickets.get(store, ticket_id)
    other, _ = measured_pair(store, act)
    ours = link_token(link_key(tmp_path), ticket)
    assert ours == link_token(link_key(tmp_path), ticket)
    assert ours != link_token(link_key(tmp_path / "other"), ticket)
    assert ours != link_token(link_key(tmp_path), tickets.get(store, other))


def test_agreed_twice_by_one_tap_is_agreed_once(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    once = Act(act.at, 1, submission_id="s" * 22, body_hash="b")
    said = yes(offered(store, here, ticket_id))
    assert agree.agree(store, once, here, ticket_id, said, tmp_path).ticket_id == ticket_id
    assert agree.agree(store, once, here, ticket_id, said, tmp_path).ticket_id == ticket_id
    assert len(bills.payments(store, ticket_id)) == 1
    with pytest.raises(OutOfOrder):
        agree.agree(store, act, here, ticket_id, said, tmp_path)


def test_boots_that_were_not_measured_cannot_be_agreed(store: Store, act: Act, here: shop.Shop):
    take_in(store, act)
    with pytest.raises(OutOfOrder, match="not measured"):
        offered(store, here, 1)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"name": " "}, "name"),
        ({"signature": "data:image/png;base64,AAAA"}, "signature"),
        ({"signature": "data:image/svg+xml,<svg/>"}, "signature"),
        ({"signature": "data:image/png;base64,%%%"}, "signature"),
    ],
)
def test_what_is_wrong_keeps_everything_as_it_was(
    store: Store,
    act: Act,
    here: shop.Shop,
    ticket_id: int,
    tmp_path: Path,
    changes: dict[str, object],
    field: str,
):
    with pytest.raises(BadInput) as refused:
        agree.agree(
            store, act, here, ticket_id, yes(offered(store, here, ticket_id), **changes), tmp_path
        )
    assert refused.value.field == field
    assert bills.lines(store, ticket_id) == []
    assert tags.of_item(store, items.of_ticket(store, ticket_id)[0].id) is None


def test_a_ticket_somebody_else_changed_meanwhile_is_not_agreed(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    offer = offered(store, here, ticket_id)
    with store.write_tx():
        store.change("tickets", ticket_id, 1, note="she called")
    with pytest.raises(Conflict):
        agree.agree(store, act, here, ticket_id, yes(offer, version=1), tmp_path)
    assert tickets.consents(store, ticket_id) == []


def test_what_is_declined_is_tagged_and_waits_to_be_given_back(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    agree.decline(store, act, 1, "too dear for her", tmp_path)
    left, right, bag = items.of_ticket(store, ticket_id)
    assert (left.state, right.state, bag.state) == ("declined", "declined", "counter")
    assert left.note == "too dear for her"
    assert tags.of_item(store, left.id) is not None
    assert [line.what for line in offered(store, here, ticket_id).lines] == [
        "black bag: new handle"
    ]
    with pytest.raises(OutOfOrder):
        agree.decline(store, act, 1, "", tmp_path)


def test_a_panel_makes_other_work_of_the_boots(
    store: Store, act: Act, here: shop.Shop, tmp_path: Path
):
    shop.choose(store, act, limits="careful")
    careful = shop.read(store)
    ticket, _ = measured_pair(store, act, material="vegetable-tanned")
    offer = offered(store, careful, ticket)
    assert [(line.what, line.amount_minor) for line in offer.lines] == [
        ("A panel for the pair", 14000)
    ]
    assert offer.further_minor == 0
    agree.agree(store, act, careful, ticket, yes(offer), tmp_path)
    assert {(one.work, one.jobs, one.state) for one in items.of_ticket(store, ticket)} == {
        ("other", "panel", "queued")
    }


def test_what_was_chosen_in_place_of_a_panel_is_priced_agreed_and_done(
    store: Store, act: Act, here: shop.Shop, tmp_path: Path
):
    """An elastic gusset has its own line, its own consent, its own work on the boots."""
    shop.choose(store, act, limits="careful")
    careful = shop.read(store)
    ticket, fit_id = measured_pair(store, act, material="vegetable-tanned")
    entry = EntryInput(what="Elastic gusset", price_minor=4500, days=3)
    price_list.save(store, act, "elastic-gusset", entry)
    instead_of_stretching.choose(store, Act(act.at, 1), fit_id, "elastic-gusset", tmp_path)
    offer = offered(store, careful, ticket)
    assert [(line.what, line.amount_minor) for line in offer.lines] == [
        ("Elastic gusset, both boots", 9000)
    ]
    assert offer.promise is not None
    assert any("elastic shows" in one for one in offer.sentences)
    assert not any("panel" in one for one in offer.sentences)
    agree.agree(store, Act(act.at, 1), careful, ticket, yes(offer), tmp_path)
    boots = items.of_ticket(store, ticket)
    assert {(one.work, one.jobs) for one in boots} == {("other", "Elastic gusset")}
    card = documents_bench.bench_card(store, careful, ticket, "", TODAY)
    assert card.boots[0].panel.startswith("Elastic gusset: ")


def test_a_panel_is_priced_by_its_width_where_the_list_says_so(
    store: Store, act: Act, here: shop.Shop
):
    shop.choose(store, act, limits="careful")
    careful = shop.read(store)
    ticket, _ = measured_pair(store, act, material="vegetable-tanned")
    entry = EntryInput(what="Leather panel", price_minor=2000, size_minor=1600)
    price_list.save(store, act, "panel", entry)
    offer = offered(store, careful, ticket)
    (given,) = offer.answers
    widths = [side.verdict.panel.widest_mm for _, side in given.measured if side.verdict.panel]
    sixteenths = sum(ceil(round(mm / 1.5875, 3)) for mm in widths)
    assert [line.amount_minor for line in offer.lines] == [2 * 2000 + 100 * sixteenths]


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
