"""Agreeing: one transaction for lines, consent, deposit, tags, link and the steps."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest
from support.measured_pair import measured_pair, take_in
from support.offered_pair import offered, picture, yes

from fitcounter.desk import shop
from fitcounter.desk.common.link_token import link_hash, link_key, link_of, link_token
from fitcounter.desk.quote import agree, consent
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.store import bills, items, outcomes, tags, tickets
from fitcounter.store.database import Act, Store


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
