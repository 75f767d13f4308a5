"""A shop with everything in it: the invented story, played once and copied for each test, and an
address for every rule.
"""

from __future__ import annotations

import secrets
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from io import BytesIO
from itertools import product
from pathlib import Path
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from PIL import Image
from support.cast import Clock
from support.one_application import serving
from werkzeug.datastructures import MultiDict
from werkzeug.routing import Rule
from werkzeug.routing.converters import AnyConverter
from werkzeug.test import TestResponse

from fitcounter.desk.common import drafts
from fitcounter.desk.common.link_token import link_key, link_token
from fitcounter.desk.front_desk import photos
from fitcounter.desk.shop import Act, EachOpens, Store
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.desk.staff import sign_in
from fitcounter.desk.staff import signed_out_forms as staff_signed_out_forms
from fitcounter.settings import Settings
from fitcounter.store import tickets

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
PIN = "740193"
LIGHT = "scrypt:16:8:1"  # how a process beside the tests' own hashes, as they do
PEOPLE = {"counter": 1, "bench": 2, "owner": 3}
DRAFT, FORM = "a-draft-of-the-story", "a-form-of-the-story-0001"


class Reader(FlaskClient):
    """Reads every answer to its end, so that no file stays open."""

    def open(self, *args: Any, **more: Any) -> TestResponse:
        return super().open(*args, **{"buffered": True, **more})


@dataclass(frozen=True)
class WholeShop:
    """app: on a copy of the story.

    token: her link of a ticket that was handed over. values: what stands in addresses.
    """

    app: Flask
    clock: Clock
    store: Store
    values: dict[str, object]

    def signed_in(self, role: str) -> FlaskClient:
        """A device on which somebody of this role is signed in; '' is a stranger's.

        The passphrase is not typed: it takes long.
        """
        client = self.app.test_client()
        if role:
            token = f"token-of-{role}-{secrets.token_hex(8)}"
            at = "2026-03-17T14:00:00Z"
            row = {
                "token_hash": sign_in.token_hash(token),
                "staff_id": PEOPLE[role],
                "started_at": at,
                "seen_at": at,
            }
            with self.store.write_tx():
                self.store.insert("sessions", **row, ends_at="2026-03-18T00:00:00Z")
            with client.session_transaction(base_url=self.base_url) as session:
                session["token"] = token
                session.permanent = True
        return client

    @property
    def base_url(self) -> str:
        return "https://localhost" if self.app.config["SETTINGS"].https else "http://localhost"


def add_what_it_lacks(folder: Path) -> None:
    """To the invented shop in this folder: a draft, a form that came too late, a phone of the
    shop, a photo, a day away.
    """
    store = Store(folder / "shop.db")
    act = Act(NOW, PEOPLE["owner"])
    drafts.keep(store, act, DRAFT, "new-job", MultiDict({"name": "Ada", "phone": "(412) 555-0100"}))
    staff_signed_out_forms.keep(store, act, "/items/44/prepare", [("prepared", "dry")])
    staff_phones.enrol(store, act, staff_phones.new_code(store, act), "bench")
    with store.write_tx():
        store.change("staff", PEOPLE["owner"], pin_hash=staff_secrets.hash_secret(PIN))
        store.insert(
            "closures", kind="bench-away", from_day="2026-08-01", to_day="2026-08-08", why="summer"
        )
    picture = BytesIO()
    Image.new("RGB", (40, 30), "brown").save(picture, "JPEG")
    photos.keep_of_item(store, act, 44, photos.Shot("before", picture.getvalue(), NOW))
    store.close()


def open_copy(
    played: Path,
    folder: Path,
    *,
    https: bool = False,
    connections: Callable[[Path], EachOpens] = EachOpens,
) -> WholeShop:
    """The played shop, copied and open."""
    shutil.copytree(played, folder, dirs_exist_ok=True)
    clock = Clock(NOW)
    base_url = "https://localhost" if https else "http://localhost"
    settings = Settings(data_dir=folder, testing=True, https=https, base_url=base_url)
    app = serving(settings, clock, connections)
    app.test_client_class = Reader
    store = Store(folder / "shop.db")
    token = link_token(link_key(folder), tickets.get(store, 14))
    parked_id = store.value("SELECT id FROM drafts WHERE kind = 'parked'")
    with store.write_tx():
        row = {
            "label": "",
            "enrol_hash": sign_in.token_hash("a-code"),
            "enrol_until": "2026-03-17T15:00:00Z",
        }
        store.insert("phones", **row)
    values: dict[str, object] = {
        "ticket_id": 22,
        "item_id": 44,
        "other_id": 43,
        "tree_id": 1,
        "point_id": 1,
        "fit_id": store.value("SELECT fit_id FROM items WHERE id = 44"),
        "closure_id": 1,
        "booking_id": 1,
        "follow_up_id": 1,
        "incident_id": 1,
        "customer_id": 22,
        "work_id": 1,
        "line_id": 1,
        "key": "heel-tips",
        "photo_id": 1,
        "staff_id": 1,
        "phone_id": 1,
        "session_id": 999,
        "token": token,
        "code": "a-code",
        "draft_id": DRAFT,
        "form_id": FORM,
        "parked_id": parked_id,
        "form": "ics",
        "filename": "app.css",
        "name": "app.css",
        "number": 22,
        "till_id": 1,
        "leather": "goat",
        "figure": "all",
    }
    values["tag"] = store.value("SELECT code FROM tags WHERE item_id = 44 AND died_at IS NULL")
    return WholeShop(app, clock, store, values)


def rules(app: Flask) -> list[Rule]:
    """Every rule, in the order of its address."""
    return sorted(app.url_map.iter_rules(), key=lambda rule: (rule.rule, rule.endpoint))


def addresses(shop: WholeShop, rule: Rule, **changes: object) -> Iterator[str]:
    """Every address of a rule with the story's own ids: one for each word that it lists.

    Raises KeyError for a part nobody knows.
    """
    values = {**shop.values, **changes}
    if rule.endpoint == "items.tag":
        values["code"] = values["tag"]
    lists = {
        name: sorted(one.items)
        for name, one in rule._converters.items()
        if isinstance(one, AnyConverter)
    }
    for words in product(*lists.values()):
        known = {name: values[name] for name in rule.arguments if name not in lists}
        built = rule.build({**known, **dict(zip(lists, words, strict=True))}, append_unknown=False)
        assert built is not None
        yield built[1]


def ask(
    shop: WholeShop, client: FlaskClient, address: str, method: str = "GET", **more: object
) -> TestResponse:
    """The answer to one request that comes by the shop's own address, over HTTP or HTTPS."""
    return client.open(address, method=method, base_url=shop.base_url, **more)
