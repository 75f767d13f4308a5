"""New job by forms: the family of every write, and what a counter types wrong."""

from __future__ import annotations

from html import unescape

import pytest
from support.cast import Counter
from support.counter_forms import errors, fresh, new_job, taken_in, value

from fitcounter.store import customers, findings, fits, items, tickets, works
from fitcounter.store.database import Store


def test_a_regular_pair_is_taken_in_and_goes_on_to_the_tape(counter: Counter, store: Store):
    fit_id = taken_in(counter)
    left, right = fits.boots(store, fit_id)
    assert (left.side, right.side, left.description) == ("left", "right", "chestnut, gold buckle")
    ticket = tickets.get(store, left.ticket_id)
    assert (ticket.number, ticket.needed_by, ticket.worn_with) == (1, "2026-05-25", "sheer")
    assert customers.get(store, ticket.customer_id).phone_e164 == "+14125550142"


def test_sent_twice_it_is_one_ticket_and_leads_to_the_same_page(counter: Counter, store: Store):
    counter.get("/new")
    form = new_job()
    first, again = counter.post("/new", **form), counter.post("/new", **form)
    assert (first.status_code, again.status_code) == (303, 303)
    assert first.headers["Location"] == again.headers["Location"]
    assert store.value("SELECT count(*) FROM tickets") == 1


def test_a_stranger_and_the_bench_open_nothing(stranger: Counter, bench: Counter, store: Store):
    assert stranger.get("/new").status_code == 303
    stranger.get("/sign-in")
    assert stranger.post("/new", **new_job()).status_code == 401
    assert bench.get("/new").status_code == 403
    assert bench.post("/new", **new_job()).status_code == 403
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_a_draft_is_only_sent(counter: Counter):
    assert counter.get(f"/drafts/{fresh()}").status_code == 405


@pytest.mark.parametrize(
    "name",
    [
        "O'Neill",
        "D’Angelo",
        "Nguyễn",
        "李",
        "X",
        "Null",
        "Robert'); DROP TABLE students",
        "<script>alert(1)</script>",
        "{{7*7}}",
    ],
)
def test_a_name_is_kept_exactly_and_shown_as_text(counter: Counter, store: Store, name: str):
    fit_id = taken_in(counter, name=name)
    ticket = tickets.get(store, fits.get(store, fit_id).ticket_id)
    assert customers.get(store, ticket.customer_id).name == name
    page = counter.get(f"/tickets/{ticket.id}").text
    assert "<script>alert" not in page
    assert "49" not in page.split("</h1>")[1].split("</p>")[0]


def test_a_known_number_brings_up_whose_it_is(counter: Counter, store: Store):
    taken_in(counter)
    counter.get("/new")
    page = counter.post("/new", **new_job(name="", find="1"))
    assert page.status_code == 200
    assert "Returning customer" in page.text
    assert "Marisol Okafor-Lind" in page.text
    assert store.value("SELECT count(*) FROM tickets") == 1
    first = value(page.text, "customer", r'name="customer" id="customer-0" value="(\d+)"')
    taken_in(counter, customer=first, name="")
    assert store.value("SELECT count(*) FROM customers") == 1


def test_the_last_four_digits_are_enough_to_look_up(counter: Counter):
    taken_in(counter)
    counter.get("/new")
    assert (
        "Marisol Okafor-Lind"
        in counter.post("/new", **new_job(phone="0142", name="", find="1")).text
    )


def test_another_name_on_a_known_number_is_asked_about_once(counter: Counter, store: Store):
    taken_in(counter)
    counter.get("/new")
    answer = counter.post("/new", **new_job(name="Tobias Renwick"))
    assert answer.status_code == 422
    assert "or “New customer”" in " ".join(errors(answer))
    assert 'value="Tobias Renwick"' in answer.text
    taken_in(counter, name="Tobias Renwick", customer="new")
    assert store.value("SELECT count(*) FROM customers") == 2


def test_findings_and_other_things_come_along(counter: Counter, store: Store):
    bag = {
        "things-0-kind": "bag",
        "things-0-description": "black bag",
        "things-0-jobs": "new handle",
        "things-0-day": "2026-03-24",
    }
    fit_id = taken_in(
        counter, nothing_seen="", seen_left=["scuffs", "zip-worn"], place_left="toe", **bag
    )
    left, right = fits.boots(store, fit_id)
    assert sorted((one.word, one.place) for one in findings.of_item(store, left.id)) == [
        ("scuffs", "toe"),
        ("zip-worn", "toe"),
    ]
    assert findings.of_item(store, right.id) == []
    assert items.of_ticket(store, left.ticket_id)[2].promised_day == "2026-03-24"


def test_what_the_shop_does_not_do_is_answered_and_kept_as_asked_for(
    counter: Counter, store: Store
):
    shoe = {"things-0-kind": "shoe", "things-0-description": "brown shoes"}
    fit_id = taken_in(counter, **shoe, **{"things-0-jobs": "heel tips, lengthen feet"})
    page = unescape(counter.get(f"/fits/{fit_id}/measure").text)
    assert "We do not lengthen feet. Leather gives in width, not in length." in page
    assert [one.jobs for one in items.of_ticket(store, 1)] == ["", "", "heel tips"]
    (asked,) = works.of_ticket(store, 1)
    assert (asked.what, asked.amount_minor, asked.line_id) == ("Foot made longer", 0, None)
    assert works.lines_of_ticket(store, 1) == []
    assert "We do not lengthen feet" in unescape(counter.get("/tickets/1/work").text)


def test_a_job_of_nothing_but_what_is_not_done_here_is_answered_at_its_field(
    counter: Counter, store: Store
):
    counter.get("/new")
    shoe = {"things-0-kind": "shoe", "things-0-description": "brown shoes"}
    only = new_job(boots="none", nothing_seen="", **shoe, **{"things-0-jobs": "longer feet"})
    answer = counter.post("/new", **only)
    assert answer.status_code == 422
    assert "We do not lengthen feet. Leather gives in width, not in length." in errors(answer)
    assert 'value="longer feet"' in answer.text
    assert store.value("SELECT count(*) FROM tickets") == 0
    more = {**new_job(), **shoe, "things-0-jobs": "longer feet"}  # the boots are taken in alone
    counter.post("/new", **more)
    assert [one.kind for one in items.of_ticket(store, 1)] == ["boot", "boot"]
    assert len(works.of_ticket(store, 1)) == 1


def test_one_more_thing_adds_a_line_and_loses_none(counter: Counter, store: Store):
    counter.get("/new")
    page = counter.post("/new", **{**new_job(more="1"), "things-0-description": "black bag"})
    assert page.status_code == 200
    assert 'name="things-1-description"' in page.text
    assert 'value="black bag"' in page.text
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_a_bag_alone_goes_straight_to_the_agreement(counter: Counter, store: Store):
    counter.get("/new")
    bag = {
        "things-0-kind": "bag",
        "things-0-description": "black bag",
        "things-0-jobs": "new handle",
    }
    answer = counter.post("/new", **{**new_job(boots="none", nothing_seen=""), **bag})
    assert answer.headers["Location"] == "/tickets/1/agree"


def test_kept_for_later_it_is_gone_on_with_on_another_phone(
    counter: Counter, owner: Counter, store: Store
):
    counter.get("/new")
    form = new_job(keep="1", description="half typed", needed_by="whenever")
    assert counter.post("/new", **form).status_code == 303
    assert store.value("SELECT count(*) FROM tickets") == 0
    listed = owner.get("/new").text
    assert "Marisol Okafor-Lind" in listed
    again = owner.get(f"/new?draft={form['draft']}").text
    for words in ("half typed", "(412) 555-0142", "whenever"):
        assert f'value="{words}"' in again
    assert value(again, "submission_id") != form["submission_id"]
    owner.post("/new", **new_job(draft=form["draft"]))
    assert "half typed" not in owner.get(f"/new?draft={form['draft']}").text


def test_typing_is_kept_at_every_pause(counter: Counter):
    counter.get("/new")
    draft = fresh()
    assert counter.post(f"/drafts/{draft}", **new_job(name="Mari")).status_code == 204
    assert counter.post(f"/drafts/{draft}", **new_job(name="Marisol")).status_code == 204
    assert 'value="Marisol"' in counter.get(f"/new?draft={draft}").text
    assert counter.post("/drafts/short", **new_job()).status_code == 422


def test_more_is_added_to_a_ticket_that_is_there(counter: Counter, store: Store):
    fit_id = taken_in(counter)
    ticket_id = fits.get(store, fit_id).ticket_id
    page = counter.get(f"/new?ticket={ticket_id}").text
    assert "Add to 1, Marisol Okafor-Lind" in page
    belt = {
        "things-0-kind": "belt",
        "things-0-description": "brown belt",
        "things-0-jobs": "one hole",
    }
    form = {
        **new_job(boots="none", nothing_seen="", phone="", name="", needed_by=""),
        **belt,
        "ticket": str(ticket_id),
    }
    answer = counter.post("/new", **form)
    assert answer.headers["Location"] == f"/tickets/{ticket_id}/agree"
    assert [one.letter for one in items.of_ticket(store, ticket_id)] == ["A", "A", "B"]
    assert counter.post(
        "/new", **{**form, "submission_id": fresh(), "ticket": "99"}
    ).status_code in (404, 422)


def test_an_e_mail_is_taken_with_somebody_new_and_of_a_known_one_what_she_says_now_holds(
    counter: Counter, store: Store
):
    counter.get("/new")
    assert counter.post("/new", **new_job(email="marisol@example.org")).status_code == 303
    assert store.value("SELECT email FROM customers") == "marisol@example.org"
    for email, kept in (("", "marisol@example.org"), ("boots@example.org", "boots@example.org")):
        assert counter.post("/new", **new_job(email=email)).status_code == 303
        assert [row["email"] for row in store.rows("SELECT email FROM customers")] == [kept]


def test_an_e_mail_that_is_none_is_sent_back_in_sight(counter: Counter, store: Store):
    counter.get("/new")
    answer = counter.post("/new", **new_job(email="marisol at home"))
    assert answer.status_code == 422
    assert "Type the e-mail address" in " ".join(errors(answer))
    assert value(answer.text, "email") == "marisol at home"
    assert "<details open>\n<summary>Still at home" in answer.text
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_ticked_work_is_done_on_the_item_that_was_typed_else_on_shoes(
    counter: Counter, store: Store
):
    counter.get("/new")
    alone = new_job(boots="none", often=["heel-tips", "zip"])
    assert counter.post("/new", **alone).status_code == 303
    (item,) = items.of_ticket(store, 1)
    assert (item.kind, item.description, item.jobs) == ("shoe", "shoes", "Heel tips, New zipper")
    counter.get("/new")
    typed = {
        "things-0-kind": "boot",
        "things-0-description": "red ankle boots",
        "things-0-jobs": "polish",
    }
    job = new_job(boots="none", often=["heel-tips"], **typed)
    assert counter.post("/new", **job).status_code == 303
    (item,) = items.of_ticket(store, 2)
    assert (item.description, item.jobs) == ("red ankle boots", "Heel tips, polish")
    counter.get("/new")
    assert counter.post("/new", **new_job(boots="none", often=["nope"])).status_code == 422
