"""Hands one sealed message to the service of a phone's browser (RFC 8030): HTTPS with a certificate
that holds, to a public address that was looked at, and no further.
"""

from __future__ import annotations

import http.client
import ipaddress
import socket
import ssl
from collections.abc import Mapping
from typing import NamedTuple

from fitcounter.desk.common.translation import marked
from fitcounter.desk.messages.push_allowed_services import host_of

WAIT_S = 10
PORT = 443
# What went wrong, by the word that is kept.
FAULTS = {
    "no-answer": marked("A message service does not answer. Is this computer on the internet?"),
    "inside": marked("A message service has an address inside a network, so nothing was sent."),
    "certificate": marked("A message service’s certificate does not fit its name."),
    "keys": marked("A message service refused the shop’s keys. Is this computer’s clock right?"),
    "refused": marked("A message service refused a message."),
    "not-now": marked("A message service cannot take messages now."),
    "gone": marked("The phone gets no messages any more."),
}
FOR_GOOD = ("refused", "gone", "inside")  # trying again would change nothing
NAT64 = ipaddress.ip_network("64:ff9b::/96")  # RFC 6052


class NotPushed(Exception):
    """The message did not go out. fault: a word of FAULTS."""

    def __init__(self, fault: str) -> None:
        super().__init__(fault)
        self.fault = fault


class Sealed(NamedTuple):
    """endpoint: where it goes. headers: who sends it, for how long it counts, and how urgent it is.
    body: what only the phone reads.
    """

    endpoint: str
    headers: Mapping[str, str]
    body: bytes


def push(sealed: Sealed) -> None:
    """Sends it. Raises NotPushed; then it did not go out, as far as the service said.

    A redirect is not followed: it is a refusal.
    """
    host = host_of(sealed.endpoint)
    if not host:
        raise NotPushed("refused")
    path = "/" + sealed.endpoint.removeprefix("https://").partition("/")[2]
    try:
        status = _asked(host, path, sealed)
    except ssl.SSLCertVerificationError as error:
        raise NotPushed("certificate") from error
    except (OSError, http.client.HTTPException) as error:
        raise NotPushed("no-answer") from error
    if status not in (200, 201, 202, 204):
        raise NotPushed(_fault(status))


def public_addresses(host: str) -> list[tuple[str, int]]:
    """Where the host is, looked up once; whoever connects takes one of these.

    Raises NotPushed where any of them lies inside a network or on this machine; OSError.
    """
    found = socket.getaddrinfo(host, PORT, type=socket.SOCK_STREAM)
    addresses = list(dict.fromkeys(str(one[4][0]) for one in found))
    if not addresses or not all(map(is_public, addresses)):
        raise NotPushed("inside")
    return [(one, PORT) for one in addresses]


def is_public(address: str) -> bool:
    """Whether it is of the internet: none of this machine, of a network of one's own, of a link, of
    a group, nor one of those written as IPv6.
    """
    try:
        one = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return False
    if isinstance(one, ipaddress.IPv6Address):
        if one.sixtofour or one.teredo:
            return False
        inner = one.ipv4_mapped or (
            ipaddress.IPv4Address(int(one) & 0xFFFFFFFF) if one in NAT64 else None
        )
        if inner is not None:
            return is_public(str(inner))
    return one.is_global and not (one.is_multicast or one.is_reserved or one.is_unspecified)


class _Line(http.client.HTTPSConnection):
    """HTTPS to an address that was looked at, under the name of its host."""

    def connect(self) -> None:
        self.sock = trusted().wrap_socket(
            _first(public_addresses(self.host)), server_hostname=self.host
        )


def trusted() -> ssl.SSLContext:
    """TLS as every browser's service has it."""
    context = ssl.create_default_context()
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    return context


def _first(addresses: list[tuple[str, int]]) -> socket.socket:
    """The first that answers. Raises OSError."""
    wrong: OSError = OSError("no address")
    for one in addresses[:3]:
        try:
            return socket.create_connection(one, WAIT_S)
        except OSError as error:
            wrong = error
    raise wrong


def _asked(host: str, path: str, sealed: Sealed) -> int:
    """The status of the answer; nothing else of it is read."""
    line = _Line(host, PORT, timeout=WAIT_S)
    try:
        line.request("POST", path, sealed.body, dict(sealed.headers))
        return line.getresponse().status
    finally:
        line.close()


def _fault(status: int) -> str:
    if status in (404, 410):
        return "gone"
    if status in (401, 403):
        return "keys"
    return "not-now" if status == 429 or status >= 500 else "refused"
