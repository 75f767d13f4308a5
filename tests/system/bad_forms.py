"""The ways in which what is typed into a form cannot be: readings, names, signs that no letter has,
and where they are shown again.
"""

from __future__ import annotations

from typing import Any

from markupsafe import escape
from support.counter_forms import gap_sheet, new_job
from support.till import Answer, Till
from system.bad_ways import way
from werkzeug.datastructures import MultiDict


@way("reading")
@way("asked")
def reading(till: Till, typed: dict[str, Any], _: object) -> Answer:
    """A reading, and the page that comes after it, whether it is refused or taken with a
    question.
    """
    return till.send("reading", **typed)


@way("stored")
def stored(till: Till, typed: dict[str, Any], _: object) -> Answer:
    """A reading that is taken, and what the file holds of it in micrometres."""
    answer = till.send("reading", **typed)
    row = (
        "SELECT r.girth_um FROM boot_readings r JOIN items i ON i.id = r.item_id WHERE i.fit_id = ?"
        " AND i.side = 'left' ORDER BY r.height_um"
    )
    return Answer(
        answer.code, str([one["girth_um"] for one in till.store.rows(row, till.fit_id)][-1])
    )


@way("no readings")
def no_readings(till: Till, typed: dict[str, Any], _: object) -> Answer:
    return till.send("no readings", **typed)


@way("new job")
def a_new_job(till: Till, typed: dict[str, Any], _: object) -> Answer:
    return till.send("new job", **typed)


@way("sides swapped")
def sides_swapped(till: Till, _: object, __: object) -> Answer:
    """The left column holds the right leg's readings: far enough apart that a person is asked once
    more, and nothing is swapped for them.
    """
    cells = {f"boot_left_{row}": girth for row, girth in enumerate(("11 1/2", "12", "12 3/8"))}
    answer = till.send("reading", **cells)
    assert all(cell in answer.text for cell in cells.values())
    return answer


@way("larger than the leg")
def larger_than_the_leg(till: Till, _: object, __: object) -> Answer:
    cells: dict[str, object] = {
        f"leg_{side}_{row}": girth
        for side in ("left", "right")
        for row, girth in enumerate(("12", "12 1/2", "13"))
    }
    boots = {
        f"boot_{side}_{row}": girth
        for side in ("left", "right")
        for row, girth in enumerate(("14", "14 3/4", "15 1/4"))
    }
    assert till.send("reading", **{**cells, **boots, "target": "leg"}).code == 303
    page = till.client.get(f"/fits/{till.fit_id}/verdict")
    assert "-" not in "".join(
        str(row["girth_um"]) for row in till.store.rows("SELECT girth_um FROM boot_readings")
    )
    return Answer(page.status_code, page.text)


@way("heights out of order")
def heights_out_of_order(till: Till, _: object, __: object) -> Answer:
    answer = till.send(
        "reading",
        height_0="14 1/2",
        height_2="10 1/2",
        boot_left_0="14",
        boot_right_0="14",
        boot_left_2="12 7/8",
        boot_right_2="12 7/8",
    )
    rows = till.store.rows(
        "SELECT height_text, girth_text FROM boot_readings r JOIN items i ON i.id = r.item_id WHERE"
        " fit_id = ? AND side = 'left' ORDER BY height_um",
        till.fit_id,
    )
    assert [(row["height_text"], row["girth_text"]) for row in rows] == [
        ("10 1/2 in", "12 7/8"),
        ("12 1/2 in", "13 5/8"),
        ("14 1/2 in", "14"),
    ]
    return answer


@way("sent twice")
def sent_twice(till: Till, _: object, __: object) -> Answer:
    sent = MultiDict([*gap_sheet().items(), ("csrf_token", till.token), ("boot_left_2", "15")])
    answer = till.client.post(f"/fits/{till.fit_id}/measure", data=sent)
    assert "15" in answer.text
    return Answer(answer.status_code, answer.text, dict(gap_sheet(submission_id="")))


@way("extra fields")
def extra_fields(till: Till, typed: dict[str, Any], _: object) -> Answer:
    answer = till.send("new job", **typed)
    row = till.store.rows(
        "SELECT t.state AS ticket, i.state AS item FROM tickets t JOIN items i ON i.ticket_id ="
        " t.id ORDER BY i.id DESC LIMIT 1"
    )[0]
    assert (row["ticket"], row["item"]) == ("open", "counter")
    return answer


@way("found again")
def found_again(till: Till, name: str, _: object) -> Answer:
    """A name is stored as it is written, and the one field finds it."""
    answer = till.send("new job", name=name)
    assert till.store.value("SELECT name FROM customers ORDER BY id DESC LIMIT 1") == name
    assert till.store.value("SELECT count(*) FROM customers") > 1
    assert str(escape(name)) in till.client.get("/find", query_string={"q": name}).text
    return answer


@way("printed")
def printed(till: Till, name: str, _: object) -> Answer:
    """A name of signs that no letter has: it is stored, and the papers are made."""
    answer = till.send("new job", name=name)
    ticket_id = till.store.value("SELECT max(id) FROM tickets")
    for paper in ("bench-card",):
        made = till.client.get(f"/tickets/{ticket_id}/{paper}.pdf")
        assert (made.status_code, made.data[:5]) == (200, b"%PDF-"), paper
    return answer


@way("one line")
def one_line(till: Till, name: str, _: object) -> Answer:
    """Direction marks and line breaks never reach the file, a header or a calendar."""
    code = till.send("new job", name=name).code
    return Answer(
        code, str(till.store.value("SELECT name FROM customers ORDER BY id DESC LIMIT 1"))
    )


@way("lone surrogate")
def lone_surrogate(till: Till, _: object, __: object) -> Answer:
    """Half a sign, as no browser sends it (%ED%A0%80 is no UTF-8): nothing of it is stored as it
    came.
    """
    sent = "&".join(
        f"{key}={value}"
        for key, value in {**new_job(), "csrf_token": till.token, "name": "A%ED%A0%80B"}.items()
        if value
    )
    answer = till.client.post(
        "/new", data=sent.replace(" ", "+"), content_type="application/x-www-form-urlencoded"
    )
    assert not any(
        0xD800 <= ord(one) <= 0xDFFF
        for one in till.store.value("SELECT name FROM customers ORDER BY id DESC LIMIT 1")
    )
    return Answer(answer.status_code, "")


@way("shown as text")
def shown_as_text(till: Till, text: str, _: object) -> Answer:
    """In every field of New job that takes words; then on every page, paper and file that shows the
    job.
    """
    words = dict.fromkeys(
        ("name", "description", "note", "things-0-description", "things-0-jobs"), text
    )
    assert till.send("new job", **words, **{"things-0-kind": "bag"}).code == 303
    ticket_id, customer_id = (
        till.store.value("SELECT max(id) FROM tickets"),
        till.store.value("SELECT max(id) FROM customers"),
    )
    owner = Till(till.shop, "owner").client
    seen = ""
    for path in (
        f"/tickets/{ticket_id}",
        "/",
        "/find?q=555-0187",
        f"/tickets/{ticket_id}/call",
        f"/shop/customers/{customer_id}",
    ):
        page = owner.get(path)
        assert page.status_code == 200, path
        seen += page.text
    assert "49" not in seen or "{{7*7}}" not in text or "{{7*7}}" in seen
    for harm in ("<script>alert", '" onfocus=alert', 'href="javascript:'):
        assert harm not in seen, harm
    assert ("alert(1)" in seen) or "{{7*7}}" in seen
    return Answer(200, seen)


@way("as a spreadsheet")
def as_a_spreadsheet(till: Till, name: str, _: object) -> Answer:
    assert till.send("new job", name=name).code == 303
    customer_id = till.store.value("SELECT max(id) FROM customers")
    made = Till(till.shop, "owner").client.get(f"/shop/customers/{customer_id}/everything.csv")
    return Answer(made.status_code, made.text)
