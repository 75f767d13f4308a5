"""A phone of the shop in the hands of the tests: taken in by the owner's code, opened by PIN."""

from __future__ import annotations

import re
import secrets

from flask import Flask
from support.cast import Counter

from fitcounter.desk.shop import Store
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets

PINS = {"CO": "740193", "BE": "285037", "OW": "619480"}
IDS = {"CO": "1", "BE": "2", "OW": "3"}


def give_pins(store: Store) -> None:
    """Everybody of the cast gets a PIN."""
    with store.write_tx():
        for initials, pin in PINS.items():
            store.change("staff", int(IDS[initials]), pin_hash=staff_secrets.hash_secret(pin))


def taken_in(app: Flask, owner: Counter, label: str = "bench") -> Counter:
    """A phone that scanned the code from the owner's screen and pressed the button."""
    owner.get("/shop/phones")
    page = owner.post("/shop/phones").text
    path = re.search(r'href="https?://[^/"]+(/phone/[^"]+)"', page)
    assert path, page
    phone = Counter(app.test_client())
    phone.get(path.group(1))
    answer = phone.post(path.group(1), submission_id=secrets.token_urlsafe(16), label=label)
    assert answer.status_code == 303, answer.text
    return phone


def opened(phone: Counter, initials: str = "BE") -> Counter:
    """… and was opened for the shift."""
    phone.get("/sign-in")
    answer = phone.post("/open", who=IDS[initials], pin=PINS[initials])
    assert answer.status_code == 303, answer.text
    phone.get("/me")
    return phone


def guess(phone: Counter, initials: str = "CO", pin: str = "999000"):
    return phone.post("/open", who=IDS[initials], pin=pin)
