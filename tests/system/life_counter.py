"""A life's steps at the counter: a new job, measured, agreed with a signature, its price changed;
another declined; papers put in.
"""

from __future__ import annotations

import base64
import io

from PIL import Image
from support.counter_forms import agreement, fresh, gap_sheet, new_job
from system.life import Life, picture

from fitcounter.desk.intake.paper_list_csv import EXAMPLE

OF_LEGS = ("over", "posture", "part_of_day", "ease")


def counter(life: Life) -> None:
    """New job, measured, agreed with a signature; another declined; papers put in; her link."""
    account = {"host": "smtp.example.org", "port": "465", "security": "tls", "user": "shop"}
    life.write("/shop/mail", {**account, "sender": "shop@example.org", "kinds": "ready"})
    life.write("/shop/push", {"hosts": "fcm.googleapis.com"})
    life.write("/me/push/end", {})
    draft, form = fresh(), fresh()
    life.write(f"/drafts/{draft}", {"name": "Ada", "phone": "(412) 555-0199"})
    life.write("/new", new_job(phone="(412) 555-0187", things="", submission_id=form, draft=draft))
    fit_id, ticket_id = (
        life.value("SELECT max(id) FROM fits"),
        life.value("SELECT max(id) FROM tickets"),
    )
    life.write(f"/new/{form}/photos", {"moment": "before"}, make=picture)
    sheet = {name: value for name, value in gap_sheet().items() if name not in OF_LEGS}
    life.write(f"/fits/{fit_id}/measure", sheet)
    life.write(
        f"/tickets/{ticket_id}/agree",
        {**agreement(life.owner, ticket_id), "signature": signature()},
    )
    life.write(f"/tickets/{ticket_id}/price", price_change(life, ticket_id))
    more_work(life, ticket_id)
    life.write(f"/tickets/{ticket_id}/cancel", {"charge": "0", "why": "customer", "note": "moved"})
    life.write(f"/tickets/{ticket_id}/cancel/undo", {})
    for form in ("new", "take-back", "new"):
        life.write(f"/tickets/{ticket_id}/link/{form}", {})
    life.write(f"/tickets/{ticket_id}/mail", {"wish": "stop"})
    life.write(f"/tickets/{ticket_id}/mail", {"wish": "again"})
    life.write(f"/tickets/{ticket_id}/language", {"language": "es"})
    her: dict[str, object] = {
        "name": "Marisol Okafor-Lind",
        "phone": "(412) 555-0187",
        "email": "marisol@example.org",
        "language": "es",
    }
    life.write(f"/tickets/{ticket_id}/details", her)
    other_id = life.value("SELECT min(id) FROM customers WHERE erased_at IS NULL")
    merged: dict[str, object] = {"keep": other_id, "sure": "y"}
    life.write(f"/tickets/{ticket_id}/merge/{other_id}", merged)
    life.write(f"/tickets/{ticket_id}/merge/undo", {})
    life.write(f"/tickets/{ticket_id}/photos", {"moment": "slip"}, make=picture)
    life.write(f"/photos/{life.value('SELECT max(id) FROM photos')}/erase", {})
    life.write("/new", new_job(phone="(412) 555-0188", name="Bo Lindqvist", things=""))
    fit_id = life.value("SELECT max(id) FROM fits")
    life.write(f"/fits/{fit_id}/measure", {**sheet, "submission_id": fresh()})
    life.write(f"/fits/{fit_id}/instead", {"instead": "elastic-gusset"})
    life.write(f"/fits/{fit_id}/decline", {"why": "her own wish"})
    already = {
        "name": "Cy Brandt",
        "boots": "pair",
        "state_left": "queued",
        "since_left": "2026-03-10",
        "state_right": "queued",
        "since_right": "2026-03-10",
    }
    life.write(
        "/already",
        {**already, "shelf_left": "", "total": "90", "paid": "20", "note": "from the slip"},
    )
    listed = (
        EXAMPLE.replace("41,", ",")
        .replace("42,", ",")
        .replace("tree 4 and 9", "shelf A1")
        .replace("2026-12-04", "2026-08-04")
    )
    life.write("/already/list", {"lines": listed})
    life.write("/already/list/put-in", {"lines": listed})


def more_work(life: Life, ticket_id: int) -> None:
    """A job on both boots with a yes by phone, done on each; another taken out before its
    agreement; an entry of the list of work.
    """
    boots = life.shop.store.rows(
        "SELECT id FROM items WHERE ticket_id = ? AND kind = 'boot'", ticket_id
    )
    typed: dict[str, object] = {f"item_{one['id']}": "y" for one in boots}
    typed |= {"what": "Heel tips", "price": "9", "yes": "phone"}
    life.write(f"/tickets/{ticket_id}/work", typed)
    lines = life.shop.store.rows(
        "SELECT id, item_id FROM work_lines WHERE work_id = (SELECT max(id) FROM works)"
    )
    for line in lines:
        done: dict[str, object] = {"to": "done", "note": "one was loose"}
        life.write(f"/items/{line['item_id']}/works/{line['id']}", done)
    entry = {"what": "Spur rests moved", "price": "25", "days": "1", "timing": "any"}
    life.write("/shop/prices/new", {**entry, "taxable": "y", "offered": "y"})
    at_counter = life.value(
        "SELECT ticket_id FROM items WHERE state = 'counter' AND kind = 'boot' ORDER BY id LIMIT 1"
    )
    if at_counter:
        boots = life.shop.store.rows(
            "SELECT id FROM items WHERE ticket_id = ? AND kind = 'boot'", at_counter
        )
        typed = {f"item_{one['id']}": "y" for one in boots}
        life.write(f"/tickets/{at_counter}/work", {**typed, "what": "Dyed", "price": "20"})
        work_id = life.value("SELECT max(id) FROM works")
        life.write(f"/tickets/{at_counter}/works/{work_id}/drop", {})


def price_change(life: Life, ticket_id: int) -> dict[str, object]:
    """Every line of the ticket as it stands, and a discount."""
    lines = life.shop.store.rows(
        "SELECT id, what, amount_minor FROM price_lines WHERE ticket_id = ?", ticket_id
    )
    typed: dict[str, object] = {"discount": "5%", "discount_why": "a regular", "yes": "phone"}
    for line in lines:
        typed[f"line_{line['id']}_what"] = line["what"]
        typed[f"line_{line['id']}_amount"] = str(line["amount_minor"] / 100)
    return typed


def signature() -> str:
    out = io.BytesIO()
    Image.new("L", (30, 10), 255).save(out, "PNG")
    return f"data:image/png;base64,{base64.b64encode(out.getvalue()).decode()}"
