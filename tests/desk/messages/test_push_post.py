"""A message goes to a public address that was looked at, by TLS that holds, and no further."""

from __future__ import annotations

import socket
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support import push_service
from support.push_service import HOST, PushService

from fitcounter.desk.messages import push_post, push_seal
from fitcounter.desk.messages.push_post import NotPushed, Sealed
from fitcounter.desk.messages.push_seal import sealed, signed

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


def message(service: PushService) -> Sealed:
    phone = service.phone().typed
    key = push_seal.shop_key("0123456789abcdef" * 4)
    headers = {"Authorization": signed(key, phone.endpoint, "https://boots.example.org", NOW)}
    return Sealed(phone.endpoint, headers, sealed(b'{"title": "a"}', phone.p256dh, phone.auth))


def fault(made: Sealed) -> str:
    with pytest.raises(NotPushed) as wrong:
        push_post.push(made)
    assert wrong.value.fault in push_post.FAULTS
    return wrong.value.fault


def test_what_is_sent_is_opened_by_the_phone(service: PushService):
    push_post.push(message(service))
    assert service.heard == [{"title": "a"}]


@pytest.mark.parametrize(
    ("mode", "word"),
    [
        ("gone", "gone"),
        ("missing", "gone"),
        ("busy", "not-now"),
        ("keys", "keys"),
        ("refuses", "refused"),
        ("drops", "no-answer"),
        ("stalls", "no-answer"),
        ("redirects", "refused"),
    ],
)
def test_each_answer_of_a_service_has_its_word_and_a_redirect_is_not_followed(
    service: PushService, monkeypatch: pytest.MonkeyPatch, mode: str, word: str
):
    monkeypatch.setattr(push_post, "WAIT_S", 0.3)
    service.mode = mode
    assert fault(message(service)) == word
    assert (service.heard, service.elsewhere) == ([], 0)


def test_a_strangers_certificate_is_told_nothing(
    service: PushService, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
):
    strange = push_service.certificate_for(tmp_path / "strange")[1]
    monkeypatch.setenv("SSL_CERT_FILE", str(strange))
    assert fault(message(service)) == "certificate"
    assert service.asked == []


INSIDE = [
    *("127.0.0.1", "127.8.9.1", "::1", "0.0.0.0", "::", "10.1.2.3", "172.16.0.9", "192.168.1.7"),
    *("169.254.169.254", "fe80::1%eth0", "fc00::1", "fd12::3", "100.64.0.1", "192.0.2.1"),
    *("::ffff:127.0.0.1", "::ffff:10.0.0.1", "64:ff9b::7f00:1", "64:ff9b::a00:1"),
    *("2002:7f00:1::", "2001:0:4136:e378:8000:63bf:3fff:fdd2", "224.0.0.1", "ff02::1"),
    *("255.255.255.255", "240.0.0.1", "not an address"),
]


def test_no_address_inside_a_network_or_of_this_machine_is_public():
    """Of this machine, private, of a link, shared, of a group, and each of them as IPv6."""
    assert [one for one in INSIDE if push_post.is_public(one)] == []
    outside = ("8.8.8.8", "2a00:1450:4001:80b::200a", "64:ff9b::808:808", "::ffff:8.8.8.8")
    assert all(map(push_post.is_public, outside))


def looked_up(patch: pytest.MonkeyPatch, *addresses: str) -> list[str]:
    """What the name of every host leads to, and the names that were asked for."""
    asked: list[str] = []

    def found(host: str, port: int, **_: object) -> list[tuple[object, ...]]:
        asked.append(host)
        return [(socket.AF_INET, socket.SOCK_STREAM, 6, "", (one, port)) for one in addresses]

    patch.setattr(socket, "getaddrinfo", found)
    return asked


@pytest.mark.parametrize(
    "addresses", [("127.0.0.1",), ("8.8.8.8", "192.168.1.1"), ("::ffff:169.254.169.254",), ()]
)
def test_a_listed_name_that_leads_inside_is_not_connected_to(
    monkeypatch: pytest.MonkeyPatch, addresses: tuple[str, ...]
):
    looked_up(monkeypatch, *addresses)
    tried: list[object] = []
    monkeypatch.setattr(socket, "create_connection", lambda *args: tried.append(args))
    assert fault(Sealed(f"https://{HOST}/wp/1", {}, b"x")) == "inside"
    assert tried == []


def test_a_name_is_looked_up_once_and_the_address_that_was_looked_at_is_connected_to(
    monkeypatch: pytest.MonkeyPatch,
):
    """A second look could lead elsewhere."""
    asked, tried = looked_up(monkeypatch, "8.8.8.8"), []

    def connect(address: tuple[str, int], timeout: float) -> socket.socket:
        tried.append(address)
        raise OSError("nobody there")

    monkeypatch.setattr(socket, "create_connection", connect)
    assert fault(Sealed(f"https://{HOST}/wp/1", {}, b"x")) == "no-answer"
    assert (asked, tried) == ([HOST], [("8.8.8.8", 443)])


def test_what_was_no_endpoint_is_sent_nowhere():
    assert fault(Sealed("http://fcm.googleapis.com/x", {}, b"x")) == "refused"
