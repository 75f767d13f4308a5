"""A life's steps of the shop's own: people, phones, choices, somebody erased, all taken out."""

from __future__ import annotations

from support.cast import PASSPHRASE, Counter
from support.whole_shop import PIN
from system.life import Life, found, picture

from fitcounter.desk.settings import leather_limits as settings_leather_limits
from fitcounter.desk.staff import passphrase_and_pin


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
