"""The owner's list of work: usual entries priced, own ones added."""

from __future__ import annotations

from html import unescape

from support.cast import Counter
from support.counter_forms import fresh

from fitcounter.desk.quote import price_list
from fitcounter.store.database import Store

ENTRY = {
    "what": "Heel tips",
    "price": "9",
    "size_price": "",
    "days": "2",
    "timing": "any",
    "taxable": "y",
    "answer": "",
    "offered": "y",
}


def test_a_usual_entry_gets_its_price_and_is_listed_with_it(owner: Counter, store: Store):
    assert "/shop/prices" in owner.get("/shop").text
    assert "/shop/prices/heel-tips" in owner.get("/shop/prices").text
    shown = owner.get("/shop/prices/heel-tips").text
    assert 'value="Heel tips"' in shown
    answer = owner.post("/shop/prices/heel-tips", submission_id=fresh(), version="", **ENTRY)
    assert answer.status_code == 303
    shown = unescape(owner.get("/shop/prices").text)
    assert "Heel tips is saved." in shown
    assert "$9.00" in shown
    assert price_list.get(store, "heel-tips").days == 2


def test_an_own_entry_by_size_and_one_that_is_not_done(owner: Counter, store: Store):
    owner.get("/shop/prices/new")
    gusset = {**ENTRY, "what": "Lace gusset", "price": "30", "size_price": "20", "timing": "after"}
    owner.post("/shop/prices/new", submission_id=fresh(), **gusset)
    never = {**ENTRY, "what": "Spurs fitted", "price": "", "answer": "We do not fit spurs."}
    owner.post("/shop/prices/new", submission_id=fresh(), **never)
    shown = unescape(owner.get("/shop/prices").text)
    assert "$30.00 + $20.00 an inch" in shown
    assert "We do not fit spurs." in shown


def test_what_cannot_be_read_stays_typed_and_another_persons_change_is_told(
    owner: Counter, store: Store
):
    owner.get("/shop/prices/new")
    answer = owner.post(
        "/shop/prices/new", submission_id=fresh(), **{**ENTRY, "what": "Spurs", "days": "soon"}
    )
    assert answer.status_code == 422
    assert "Type a whole number of days." in answer.text
    assert 'value="soon"' in answer.text
    owner.post("/shop/prices/heel-tips", submission_id=fresh(), version="", **ENTRY)
    owner.post("/shop/prices/heel-tips", submission_id=fresh(), version="1", **ENTRY)
    dearer = {**ENTRY, "price": "12"}
    answer = owner.post("/shop/prices/heel-tips", submission_id=fresh(), version="1", **dearer)
    assert answer.status_code == 409
    assert owner.get("/shop/prices/no-such-entry").status_code == 404
