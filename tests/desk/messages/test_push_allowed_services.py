"""Which services messages may go through, and what a phone may name."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.messages import push_allowed_services
from fitcounter.desk.messages.push_allowed_services import PushChoice
from fitcounter.errors import BadInput
from fitcounter.store.database import Act, Store

HOME = "https://boots.example.org"


@pytest.mark.parametrize(
    "endpoint",
    [
        "https://fcm.googleapis.com/fcm/send/abc:DEF",
        "https://web.push.apple.com/QGVk",
        "https://updates.push.services.mozilla.com:443/wpush/v2/abc",
        "https://wns2-par02p.notify.windows.com/w/?token=abc",
    ],
)
def test_the_services_of_the_browsers_are_taken(endpoint: str):
    assert push_allowed_services.read_endpoint(PushChoice(on=True), endpoint) == endpoint
    assert push_allowed_services.host_of(endpoint) in endpoint


@pytest.mark.parametrize(
    "endpoint",
    [
        "",
        "http://fcm.googleapis.com/fcm/send/abc",
        "https://evil.example/fcm.googleapis.com",
        "https://fcm.googleapis.com.evil.example/x",
        "https://evilfcm.googleapis.com/x",
        "https://fcm.googleapis.com@evil.example/x",
        "https://evil.example#fcm.googleapis.com/x",
        "https://fcm.googleapis.com:8443/x",
        "https://127.0.0.1/x",
        "https://[::1]/x",
        "https://[::ffff:127.0.0.1]/x",
        "https://2130706433/x",
        "https://localhost/x",
        "https://boots.local/x",
        "https://192.168.1.1/x",
        "https://169.254.169.254/latest/meta-data",
        "https://fcm.googleapis.com/x\r\nHost: evil",
        "https://fcm.googleapis.com/ x",
        "https://fcm.googleapis.com/" + "x" * 1600,
        "file:///etc/passwd",
    ],
)
def test_anything_else_is_refused_in_one_sentence(endpoint: str):
    with pytest.raises(BadInput, match="not on the shop’s list"):
        push_allowed_services.read_endpoint(PushChoice(on=True), endpoint)


def test_the_owner_keeps_a_list_and_switches_messages_on(store: Store, act: Act):
    assert not push_allowed_services.of_shop(store).on
    typed = "push.example.org\nFCM.googleapis.com.\n\npush.example.org"
    push_allowed_services.keep(store, act, typed, HOME, on=True)
    kept = push_allowed_services.of_shop(store)
    assert kept == PushChoice(True, ("push.example.org", "fcm.googleapis.com"))
    assert push_allowed_services.is_listed(kept, "a.push.example.org")
    assert not push_allowed_services.is_listed(kept, "web.push.apple.com")


@pytest.mark.parametrize(
    ("typed", "base_url", "sentence"),
    [
        ("localhost", HOME, "Type names like"),
        ("192.168.1.1", HOME, "Type names like"),
        ("boots.local", HOME, "Type names like"),
        ("https://fcm.googleapis.com", HOME, "Type names like"),
        ("com", HOME, "Type names like"),
        ("", HOME, "at least one name"),
        (" ".join(f"push{n}.example.org" for n in range(21)), HOME, "at most 20"),
        ("fcm.googleapis.com", "https://boots.local", "cannot open https://boots.local"),
    ],
)
def test_a_list_that_leads_inside_is_refused(
    store: Store, act: Act, typed: str, base_url: str, sentence: str
):
    with pytest.raises(BadInput, match=sentence):
        push_allowed_services.keep(store, act, typed, base_url, on=True)
    assert not push_allowed_services.of_shop(store).on


def test_the_key_for_browsers_comes_with_the_shops_keys(tmp_path: Path):
    """A copy of the keys has it too."""
    made = push_allowed_services.public_key(tmp_path)
    (tmp_path / "other").mkdir()
    (tmp_path / "keys.json").rename(tmp_path / "other" / "keys.json")
    assert push_allowed_services.public_key(tmp_path / "other") == made
    assert push_allowed_services.public_key(tmp_path) != made
