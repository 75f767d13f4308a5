"""The token of a page never stands in two answers alike, and is the session's under its mask; no
rule that writes does without it.
"""

from __future__ import annotations

import gzip
import random
import re
from base64 import urlsafe_b64encode
from statistics import fmean

import pytest
from flask import Flask
from flask_wtf.csrf import generate_csrf
from support.cast import Counter
from support.counter_forms import fresh
from support.whole_shop import WholeShop, addresses, rules

from fitcounter.web.guards.csrf_token import masked_token, unmasked

TOKEN = re.compile(r'name="csrf[-_]token" (?:value|content)="([^"]+)"')


def test_two_answers_never_hold_the_same_token_nor_the_one_beneath(counter: Counter) -> None:
    pages = [counter.get("/me").text for _ in range(20)]
    told = [set(TOKEN.findall(page)) for page in pages]
    assert all(len(one) == 1 for one in told), "all forms of one answer have the same"
    masks = [one.pop() for one in told]
    assert len(set(masks)) == 20
    beneath = {str(unmasked(mask)).partition(".")[0] for mask in masks}
    assert len(beneath) == 1, "one session"
    assert not any(token in page for token in beneath for page in pages)


def test_the_length_of_a_packed_page_tells_nothing_of_the_token(counter: Counter) -> None:
    """A right guess packs no better than a wrong one: what is guessed does not stand there."""
    mask = TOKEN.findall(counter.get("/me").text)[0]
    right = str(unmasked(mask)).partition(".")[0]
    dice = random.Random(5)
    wrong = [urlsafe_b64encode(b'"%040x"' % dice.getrandbits(160)).decode() for _ in range(8)]

    def length(guess: str) -> float:
        pages = [counter.get("/me").text for _ in range(8)]
        return fmean(len(gzip.compress((page + guess).encode(), 9)) for page in pages)

    told = fmean(map(length, wrong)) - length(right)
    assert told < 12, "without a mask it is the whole guess, 40 and more"


@pytest.mark.parametrize("sent", ["", "x", "====", "né", "A" * 401, "a.b.c", None])
def test_what_is_no_masked_token_is_refused_and_never_an_error(
    counter: Counter, sent: str | None
) -> None:
    data = {"submission_id": fresh(), **({} if sent is None else {"csrf_token": sent})}
    answer = counter.client.post("/sign-out", data=data)
    assert answer.status_code == 400


def test_a_token_without_a_mask_still_counts(app: Flask) -> None:
    """A page that was open before the program was brought up to date can be saved."""
    with app.test_request_context():
        token = generate_csrf()
        assert unmasked(token) == token
        assert unmasked(masked_token()) == token


def test_every_rule_that_writes_wants_its_token(whole: WholeShop) -> None:
    """No token, 400, on every POST of the program; the file stays as it was."""
    client = whole.signed_in("owner")
    client.get("/me")
    before = whole.store.value("SELECT count(*) FROM audit")
    asked = 0
    for rule in rules(whole.app):
        if "POST" in rule.methods:
            for address in addresses(whole, rule):
                assert client.post(address, data={"name": "x"}).status_code == 400, address
                asked += 1
    assert asked > 60
    assert whole.store.value("SELECT count(*) FROM audit") == before
