"""The mail account: its password beside the keys, which stay as they were."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.messages import mail_account
from fitcounter.desk.messages.mail_account import TypedAccount
from fitcounter.errors import BadInput, NotAllowed
from fitcounter.settings import load_keys
from fitcounter.store.database import Act, Store

TYPED = {"host": "smtp.example.org", "port": "465", "security": "tls", "user": "shop"}
OWN = {"sender": "shop@example.org", "kinds": ("ready", "no such kind", "claim")}


def test_the_keys_stay_and_the_kinds_are_those_that_there_are(
    store: Store, act: Act, tmp_path: Path
):
    keys = load_keys(tmp_path)
    mail_account.keep(store, act, TypedAccount(**TYPED, **OWN, password="a word"), tmp_path)
    assert load_keys(tmp_path) == keys
    assert mail_account.password(tmp_path) == "a word"
    account = mail_account.of_shop(store)
    assert account is not None
    assert account.kinds == ("claim", "ready")
    assert "a word" not in str(store.rows("SELECT * FROM settings"))


def test_keys_that_others_can_read_are_neither_read_nor_written(
    store: Store, act: Act, tmp_path: Path
):
    load_keys(tmp_path)
    (tmp_path / "keys.json").chmod(0o644)
    with pytest.raises(NotAllowed):
        mail_account.password(tmp_path)
    with pytest.raises(NotAllowed):
        mail_account.keep(store, act, TypedAccount(**TYPED, **OWN, password="a word"), tmp_path)


@pytest.mark.parametrize("password", ["a\r\nb", "a\x00", "a" * 201])
def test_a_password_that_would_be_a_second_line_is_refused(
    store: Store, act: Act, tmp_path: Path, password: str
):
    with pytest.raises(BadInput):
        mail_account.keep(store, act, TypedAccount(**TYPED, **OWN, password=password), tmp_path)
    assert mail_account.of_shop(store) is None
