"""Every form of the program in the order of a life: taken in, on the bench, fetched, worn, back,
erased; the shop's own forms beside it.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from time import process_time

import pytest
from PIL import Image
from support.cast import PASSPHRASE, Counter
from support.counter_forms import agreement, fresh, gap_sheet, new_job
from support.disk_trouble import plans_kept
from support.push_service import ANY_PHONE
from support.whole_shop import LIGHT, PIN, open_copy
from system.life import Life, found, picture

from fitcounter.desk.bench.damage_seen_at_bench import OTHER_WORDS
from fitcounter.desk.common.link_token import link_code, link_hash, link_key, link_token
from fitcounter.desk.intake.paper_list_csv import EXAMPLE
from fitcounter.desk.settings import leather_limits as settings_leather_limits
from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.store import customers, settings, tickets

OF_LEGS = ("over", "posture", "part_of_day", "ease")


def whole_life(life: Life) -> Iterator[str]:
    """All of it; yields what was just gone through."""
    for part in (
        counter,
        trees,
        rounds,
        beside_the_bench,
        pickup,
        her_page,
        comeback,
        people,
        phones,
        shop,
    ):
        life.owner.get("/me")
        part(life)
        yield part.__name__


@dataclass(frozen=True)
class Gone:
    """tried: how many faults each form was given.

    stood: after how many it was saved all the same. busy_s: of the processor.
    """

    tried: dict[str, int]
    stood: int
    busy_s: float


def go_through(
    played: Path, folder: Path, kind: str, for_ever: bool, thorough: bool = True
) -> Gone:
    """The whole life on a copy of the story, under one kind of fault."""
    begun = process_time()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(passphrase_and_pin, "POLICY", LIGHT)
        plans_kept(patch)
        life = Life(open_copy(played, folder), patch, ((kind, for_ever),), thorough)
        for _ in whole_life(life):
            pass
        life.shop.store.close()
    return Gone(life.tried, life.stood, process_time() - begun)


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


def pair(life: Life) -> tuple[int, int, int, int]:
    """Ticket, fit, left and right of the pair that goes the whole way."""
    fit_id = life.value(
        "SELECT max(f.id) FROM fits f JOIN tickets t ON t.id = f.ticket_id JOIN customers c ON c.id"
        " = t.customer_id WHERE c.phone_typed LIKE '%0187'"
    )
    sides = (
        life.value("SELECT id FROM items WHERE fit_id = ? AND side = ?", fit_id, side)
        for side in ("left", "right")
    )
    return life.value("SELECT ticket_id FROM fits WHERE id = ?", fit_id), fit_id, *sides


def trees(life: Life) -> None:
    """A tree is added, measured, tagged, put in repair and back."""
    life.write("/bench/trees", {"label": "Z9", "side": "either", "counts": "turns"})
    life.write("/bench/trees", {"label": "Z8", "side": "left", "counts": "turns"})
    tree = life.value("SELECT id FROM trees WHERE label = 'Z8'")
    life.write(
        f"/bench/trees/{tree}",
        {
            "label": "Z8",
            "side": "left",
            "counts": "turns",
            "closed_setting": "0",
            "note": "the old one",
        },
    )
    life.write(f"/bench/trees/{tree}/measure", {"setting": "2", "height": "12", "girth": "14 1/2"})
    point = life.value("SELECT max(id) FROM tree_calibration WHERE tree_id = ?", tree)
    life.write(f"/bench/trees/{tree}/readings/{point}/strike", {})
    life.write(f"/bench/trees/{tree}/tag", {})
    life.write("/bench/trees/tags", {})
    life.write(f"/bench/trees/{tree}/state", {"state": "repair", "confirmed": "1"})
    life.write(f"/bench/trees/{tree}/state", {"state": "sound"})


def rounds(life: Life) -> None:
    """One boot goes on a tree, is turned up, left on, taken off, read, taken back, read again, and
    goes on once more.
    """
    ticket_id, fit_id, left, right = pair(life)
    life.write(f"/bench/hold/{fit_id}", {"hold_h": "24", "confirmed": "1"})
    life.write(f"/items/{left}/prepare", {"prepared": "conditioned", "prepared_with": "lanolin"})
    life.write(
        f"/items/{left}/put-on",
        {"tree": "Z9", "before": "13 5/8", "on_tree": "13 7/8", "mark": "12 1/2"},
    )
    life.write(f"/items/{left}/turn-up", {"girth": "14", "setting": "8"})
    life.write(f"/items/{left}/leave-on", {"until": "2026-03-20", "confirmed": "1"})
    life.write(f"/items/{left}/take-off", {"came_out": "eased"})
    life.on(days=2)
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(
        f"/items/{left}/undo",
        {"step_id": life.value("SELECT max(id) FROM steps WHERE item_id = ?", left)},
    )
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(f"/items/{left}/another-round", {})
    life.write(f"/items/{left}/put-on", {"tree": "Z9", "on_tree": "14", "prepared": "conditioned"})
    code = str(
        life.shop.store.value("SELECT code FROM tags WHERE item_id = ? AND died_at IS NULL", left)
    )
    life.on(days=2)  # its hold is over
    life.write("/bench/off", {"scan": code})
    life.on(days=2)
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(
        f"/items/{left}/finding",
        {"word": next(iter(OTHER_WORDS)), "place": "toe", "note": "shallow"},
    )
    life.write(f"/items/{left}/photos", {"moment": "after"}, make=picture)
    life.write(f"/items/{left}/done", {})
    life.write(f"/items/{left}/finish", {"shaper": "12"})
    life.write(f"/items/{left}/shelve", {"shelf": "C2", "shaper": "12"})
    life.write(f"/items/{right}/wait", {"waits_for": "customer"})
    life.write(f"/items/{right}/go-on", {})
    life.write(f"/items/{right}/stop", {"what": "a seam opened", "where_on": "calf"})
    incident = life.value("SELECT max(id) FROM incidents")
    life.write(f"/incidents/{incident}", {"told": "y", "agreed": "mended free", "settled": "y"})
    life.write(f"/items/{right}/go-on", {})
    life.write(f"/tickets/{ticket_id}/comes-twice", {})
    life.write(f"/items/{right}/pickup-day", {"day": "2026-05-20"})
    life.write(f"/items/{right}/further", {"state": "shelved"})


def beside_the_bench(life: Life) -> None:
    """The plan, days away, trees kept, tags exchanged and struck off, and a bag."""
    _, _, left, right = pair(life)
    life.write("/bench/plan", {})
    life.write("/bench/away", {"from_day": "2026-09-01", "to_day": "2026-09-04", "why": "fair"})
    life.write(f"/bench/away/{life.value('SELECT max(id) FROM closures')}/strike", {})
    life.write(
        "/bench/slots", {"words": "Ada", "sides": "pair", "first": "2026-05-04", "goes": "2"}
    )
    slot = life.value("SELECT max(id) FROM bookings WHERE kind = 'slot'")
    life.write(f"/bench/slots/{slot}/strike", {})
    life.write(
        "/promise", {"leather": "full-grain", "short": "1/2", "sides": "pair", "name": "Ada"}
    )
    other = str(
        life.shop.store.value("SELECT code FROM tags WHERE item_id = ? AND died_at IS NULL", right)
    )
    life.write(f"/items/{left}/tag", {"code": other})
    life.write(f"/items/{left}/tag/new", {})
    life.write(f"/items/{left}/tag/swap/{right}", {"confirmed": "y"})
    life.write("/papers", {"sets": "1"})
    free = str(
        life.shop.store.value(
            "SELECT code FROM tags WHERE item_id IS NULL AND tree_id IS NULL AND died_at IS NULL"
        )
    )
    life.write(f"/tags/{free}/strike", {})
    life.owner.post("/new", **new_job(phone="(412) 555-0177", arrives="2026-12-01"))
    coming = life.value("SELECT max(id) FROM items WHERE state = 'expected'")
    life.write(f"/items/{coming}/arrive", {})
    bag = life.value("SELECT max(id) FROM items WHERE work = 'other' AND state = 'queued'")
    life.write(f"/items/{bag}/start-work", {})
    life.write(f"/items/{bag}/work-done", {"shelf": "D1"})


def pickup(life: Life) -> None:
    """Called, tried on, handed over with money and a calendar."""
    ticket_id, _, left, right = pair(life)
    life.write(f"/tickets/{ticket_id}/call", {"how": "left-word", "note": "with her son"})
    life.write(
        f"/tickets/{ticket_id}/money",
        {"what": "refund", "amount": "5", "why": "one heel cap was not done", "method": "cash"},
    )
    life.write(f"/pickup/{ticket_id}/tried/{left}", {"how": "snug"})
    life.write(f"/pickup/{ticket_id}/tried", {"how": "fits"})
    handed: dict[str, object] = {
        "items": [str(left), str(right)],
        "collected_by": "Marisol",
        "paid": "10",
        "method": "cash",
        "preset": "growing",
        "evening": "18:00",
    }
    life.write(f"/pickup/{ticket_id}", handed)
    life.write("/till", till_counted(life))


def till_counted(life: Life) -> dict[str, object]:
    """The till as its page shows it, counted with a note."""
    counted = {f"counted_{kind}": "1" for kind in ("cash", "card", "transfer", "other", "unsaid")}
    seen = found(r'name="seen" value="([^"]*)"', life.owner.get("/till").text)
    return {**counted, "change": "5", "note": "a coin", "seen": seen}


def push_on(life: Life) -> None:
    """Messages go to phones, though no phone outside opens the address of the tests."""
    store = life.shop.store
    with store.write_tx():
        settings.put(store, "push", {"on": True, "hosts": ["fcm.googleapis.com"]})


def her_page(life: Life) -> None:
    """What she says on her own page."""
    ticket_id = pair(life)[0]
    ticket = tickets.get(life.shop.store, ticket_id)
    token = link_token(
        link_key(life.shop.store.path.parent),
        ticket,
        tickets.links_so_far(life.shop.store, ticket_id),
    )
    assert life.value("SELECT count(*) FROM tickets WHERE link_hash = ?", link_hash(token)) == 1
    life.her.get(f"/c/{token}")
    life.write(f"/c/{token}/language", {"language": "en"}, life.her)
    life.write(f"/c/{token}/hour", {"evening": "19:30"}, life.her)
    life.write(f"/c/{token}/zone", {"zone": "America/Chicago"}, life.her)
    life.write(f"/c/{token}/undo", {}, life.her)
    life.write(f"/c/{token}/not-today", {"n": "1"}, life.her)
    life.on(days=9)
    life.write(f"/c/{token}/again", {"again": "yes"}, life.her)
    life.on(hours=50)
    push_on(life)
    life.write(f"/c/{token}/push", ANY_PHONE, life.her)
    life.write("/me/push", {**ANY_PHONE, "endpoint": f"{ANY_PHONE['endpoint']}2"})
    life.write(f"/c/{token}/clock", {"n": "1", "clock": "17", "ago": "60"}, life.her)
    life.write(f"/c/{token}/clock", {"clock": ""}, life.her)
    life.write(f"/c/{token}/push/end", {}, life.her)
    life.write(f"/c/{token}/wear", {"n": "1", "minutes": "20"}, life.her)
    life.write(f"/c/{token}/felt", {"felt": "left-good"}, life.her)
    told = {"felt": "left-tight", "spot": "left-calf", "said": "presses"}
    life.write(f"/c/{token}/not-right", told, life.her)
    life.write(f"/c/{token}/photo", {}, life.her, make=picture)
    life.write(f"/c/{token}/share", {}, life.her)
    life.write(f"/c/{token}/share/end", {}, life.her)
    digits = {"digits": customers.last_four(life.shop.store, ticket_id)}
    life.write(f"/c/{token}/agreed", digits, life.her)
    series = tickets.links_so_far(life.shop.store, ticket_id)
    code = link_code(link_key(life.shop.store.path.parent), ticket, series)
    life.write(f"/b/{code}", digits, life.her)
    life.write(f"/c/{token}/mail", {}, life.her)


def comeback(life: Life) -> None:
    """Asked how they are, back for another look, and the same boots again."""
    ticket_id, _, left, _ = pair(life)
    due = life.value(
        "SELECT max(id) FROM follow_ups WHERE ticket_id = ? AND kind = 'after-pickup'", ticket_id
    )
    life.write(f"/follow-ups/{due}", {"answer": "comes back"})
    last = life.value(
        "SELECT max(id) FROM follow_ups WHERE ticket_id = ? AND kind = 'not-right'", ticket_id
    )
    told = {"advice": "come-in", "note": "Bring them in.", "seen": f"{last}-0"}
    life.write(f"/tickets/{ticket_id}/not-right", told)
    life.write(f"/tickets/{ticket_id}/again", {})
    back = {"said": "it presses", f"boot-{left}": "13 7/8", f"leg-{left}": "", "pays": "guarantee"}
    life.write(f"/tickets/{ticket_id}/back", back)


def people(life: Life) -> None:
    """Who works here: taken in, changed, given new secrets, gone and back; the owner's own."""
    with life.shop.store.write_tx():
        life.shop.store.change(
            "staff",
            3,
            passphrase_hash=passphrase_and_pin.hash_secret(PASSPHRASE),
            pin_hash=passphrase_and_pin.hash_secret(PIN),
        )
    initials = str(life.shop.store.value("SELECT initials FROM staff WHERE id = 3"))
    life.write(
        "/shop/people",
        {
            "name": "Dora",
            "initials": "DO",
            "role": "bench",
            "passphrase": "quiet willow brass lamp",
            "pin": "285037",
        },
    )
    dora = life.value("SELECT max(id) FROM staff")
    life.write(f"/shop/people/{dora}", {"name": "Dora", "initials": "DR", "role": "counter"})
    life.write(f"/shop/people/{dora}/passphrase", {"passphrase": "seven copper kettles sing"})
    life.write(f"/shop/people/{dora}/pin", {"pin": "619480"})
    life.write(f"/shop/people/{dora}/leave", {})
    life.write(f"/shop/people/{dora}/return", {})
    there = life.signed_in("owner")
    life.write(f"/me/sessions/{life.value('SELECT max(id) FROM sessions')}/end", {})
    there = life.signed_in("counter")
    life.write(f"/shop/sessions/{life.value('SELECT max(id) FROM sessions')}/end", {})
    assert there.get("/ready.json").status_code == 303
    for language in ("es", ""):
        life.write("/me/language", {"language": language})
    life.write(
        "/me",
        {
            "now": PASSPHRASE,
            "passphrase": "four other oak words",
            "again": "four other oak words",
            "pin": PIN,
        },
    )
    there = life.signed_in(
        "counter"
    )  # somebody else is signed in on the device where the owner signs in
    there.get("/sign-in")
    life.write("/sign-in", {"initials": initials, "passphrase": "four other oak words"}, there)
    there.get("/me")
    life.write("/sign-out", {}, there)


def phones(life: Life) -> None:
    """A phone is taken in by its code, opened, proved and struck off."""
    page = life.write("/shop/phones", {}).text
    phone = Counter(life.shop.app.test_client())
    path = found(r'href="https?://[^/"]+(/phone/[^"]+)"', page)
    phone.get(path)
    life.write(path, {"label": "till"}, phone)
    phone.get("/sign-in")
    life.write("/open", {"who": "3", "pin": PIN}, phone)
    phone.get("/me")
    life.on(minutes=6)
    life.write("/prove", {"next": "/shop", "who": "3", "pin": PIN}, phone)
    enrolled = life.value("SELECT max(id) FROM phones WHERE enrolled_at IS NOT NULL")
    life.write(f"/shop/phones/{enrolled}/retire", {})


def shop(life: Life) -> None:
    """The shop's choices, a customer erased, and everything taken out."""
    life.write("/shop/choices", {"name": "The other bench"})
    life.write("/shop/closings", {"day": "2026-12-25", "confirmed": "1"})
    life.write("/shop/health/clock", {})
    elsewhere = life.shop.store.path.parent.parent / "off-site"
    life.write("/shop/off-site/folder", {"folder": str(elsewhere)})
    life.write("/shop/off-site/none", {})
    limits = settings_leather_limits.sheet(life.shop.store, "goat").stands
    life.write("/shop/leathers/goat", {**limits, "ceiling": "8"})
    life.write("/tickets/3/photos", {"moment": "slip"}, make=picture)
    gone = life.value("SELECT customer_id FROM tickets WHERE id = 3")
    name = str(life.shop.store.value("SELECT name FROM customers WHERE id = ?", gone))
    life.write(f"/shop/customers/{gone}/erase", {"name": name})
    files = {
        one["file"] for one in life.shop.store.rows("SELECT file FROM photos WHERE ticket_id = 3")
    }
    assert files
    assert not [one for one in life.shop.store.path.parent.rglob("*") if one.name in files]
    for kind in ("json", "csv"):
        life.write(f"/shop/everything/{kind}", {})
