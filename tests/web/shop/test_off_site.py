"""The owner's page of the off-site copy: tried out before it is kept, its keys never shown."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.cast import Counter
from support.followed_shop import needs_litestream
from support.s3_server import KEY, s3_server

from fitcounter.desk.data import off_site_settings
from fitcounter.store.database import Store

STORE = {"bucket": "boots", "region": "us-east-1", "folder": "shop"}
pytestmark = needs_litestream
KEYS = {"key": KEY, "secret": "canary/secret+key"}


def test_a_folder_is_tried_out_kept_and_given_up(
    owner: Counter, store: Store, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
):
    second = tmp_path_factory.mktemp("second")
    owner.get("/shop/off-site")
    answer = owner.post("/shop/off-site/folder", folder=str(second))
    assert answer.status_code == 303
    assert f"Tried out and kept: {second}." in owner.get("/shop/off-site").text
    kept = off_site_settings.read(tmp_path)
    assert kept is not None
    assert kept.where == str(second)
    assert list(second.iterdir()) == []
    owner.post("/shop/off-site/none")
    assert off_site_settings.read(tmp_path) is None
    rows = store.rows("SELECT detail FROM audit WHERE what = 'off_site' ORDER BY id")
    assert [json.loads(row["detail"])["where"] for row in rows] == [str(second), ""]


@pytest.mark.parametrize(
    ("kind", "typed", "sentence"),
    [
        ("folder", {"folder": "stick"}, "Type the whole path"),
        ("folder", {"folder": "/proc/nobody"}, "cannot be made"),
        ("s3", {**STORE, **KEYS, "host": "http://s3.example.com"}, "with https://"),
        ("s3", {**STORE, "host": "https://s3.example.com"}, "Type the key as the store"),
        ("s3", {**STORE, **KEYS, "host": "http://127.0.0.1:9"}, "cannot be reached"),
        ("sftp", {"host": "-oProxyCommand=x", "user": "a", "folder": "b"}, "letters, digits"),
        ("sftp", {"host": "h", "user": "a", "folder": "b", "port": "x"}, "as a number"),
        ("sftp", {"host": "h", "user": "a", "folder": "../b"}, "letters, digits"),
    ],
)
def test_what_does_not_work_is_said_kept_in_the_form_and_not_set_up(
    owner: Counter, tmp_path: Path, kind: str, typed: dict[str, str], sentence: str
):
    owner.get("/shop/off-site")
    answer = owner.post(f"/shop/off-site/{kind}", **typed)
    assert answer.status_code == 422
    assert sentence in answer.text
    assert typed["folder"] in answer.text
    assert not (tmp_path / off_site_settings.FILE).exists()
    assert not any(secret in answer.text for secret in KEYS.values())


def test_the_keys_of_a_store_are_kept_for_the_shops_user_alone_and_never_shown(
    owner: Counter, store: Store, tmp_path: Path
):
    owner.get("/shop/off-site")
    with s3_server(tmp_path / "s3") as place:
        typed = {**STORE, "host": place.host}
        assert owner.post("/shop/off-site/s3", **typed, **KEYS).status_code == 303
        assert (tmp_path / off_site_settings.FILE).stat().st_mode & 0o777 == 0o600
        page = owner.get("/shop/off-site").text + owner.get("/shop/health").text
        # left empty they stay those of before
        assert owner.post("/shop/off-site/s3", **typed, key="", secret="").status_code == 303
    held = off_site_settings.read(tmp_path)
    assert held is not None
    assert (held.key, held.secret) == tuple(KEYS.values())
    said = page + json.dumps(store.rows("SELECT * FROM audit")) + repr(held)
    assert not any(secret in said for secret in KEYS.values())
