"""What has come in of a connection: whole or not yet, and read in the order it came."""

from __future__ import annotations

import socket
from collections.abc import Iterator

import pytest

from fitcounter.serving.inbox import BODY_BYTES, HEADER_BYTES, Inbox, body_length

FORM = b"POST /a HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\n\r\nhello"


@pytest.fixture
def pair() -> Iterator[tuple[Inbox, socket.socket]]:
    """An inbox, and the other end of its connection."""
    ours, theirs = socket.socketpair()
    ours.settimeout(0)
    with ours, theirs:
        yield Inbox(ours), theirs


def test_a_form_is_whole_with_its_last_byte_and_not_before(
    pair: tuple[Inbox, socket.socket],
) -> None:
    inbox, phone = pair
    for n in range(len(FORM)):
        assert not inbox.is_whole()
        phone.sendall(FORM[n : n + 1])
        inbox.receive()
    assert inbox.is_whole()
    assert inbox.readline(256) == b"POST /a HTTP/1.1\r\n"
    assert inbox.read(len(FORM) - 18) == FORM[18:]


def test_what_came_behind_a_request_is_left_for_the_next(
    pair: tuple[Inbox, socket.socket],
) -> None:
    inbox, phone = pair
    phone.sendall(FORM + b"GET /b HTTP/1.1\r\n")
    inbox.receive()
    assert inbox.is_whole()
    assert inbox.read(len(FORM)) == FORM
    assert inbox.has_data()
    assert not inbox.is_whole()


@pytest.mark.parametrize(
    "head",
    [
        b"POST / HTTP/1.1\r\nContent-Length: %d\r\n\r\n" % (BODY_BYTES + 1),
        b"POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n",
        b"GET / HTTP/1.1\nHost: x\n\n",
        b"GET / HTTP/1.1\r\nX: " + b"a" * HEADER_BYTES,
    ],
    ids=["longer than any form", "of unknown length", "no head at all", "a head without end"],
)
def test_what_is_refused_by_its_head_alone_is_not_waited_for(
    pair: tuple[Inbox, socket.socket], head: bytes
) -> None:
    inbox, phone = pair
    phone.sendall(head)
    inbox.receive()
    assert inbox.is_whole()


def test_a_length_said_twice_counts_as_the_longer_and_one_that_is_none_as_nothing() -> None:
    assert body_length(b"A: b\r\ncontent-length: 7\r\nContent-Length: 9\r\n\r\n") == 9
    assert body_length(b"Content-Length: -7\r\nX-Content-Length: 8\r\n\r\n") == 0


def test_a_thread_reads_a_long_body_on_until_its_time_is_over(
    pair: tuple[Inbox, socket.socket],
) -> None:
    inbox, phone = pair
    inbox.sock.settimeout(10)
    inbox.deadline = float("inf")
    phone.sendall(b"abc\ndef")
    assert inbox.readline() == b"abc\n"
    assert inbox.read(2) == b"de"
    inbox.deadline = 0.0
    with pytest.raises(TimeoutError):
        inbox.read(20)
    phone.close()
    inbox.deadline = float("inf")
    assert inbox.read() == b"f"
    assert inbox.read(5) == b""
