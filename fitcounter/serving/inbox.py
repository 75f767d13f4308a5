"""What has come in of a connection: filled by the loop as bytes arrive, read by a thread once the
request is whole.

A request is whole with its head and its form. Of a body that is longer than any form only the head
is waited for: whoever answers looks at its length first and reads on where it is wanted, within the
time that such a length may take.
"""

from __future__ import annotations

import re
import socket
import ssl
import time

HEADER_BYTES = 32 * 1024
BODY_BYTES = 68 * 1024  # a form, and what multipart writes around it
BODY_S = 20
SLOWEST_BYTES_A_SECOND = 32 * 1024  # of a long body, after BODY_S
_AT_ONCE = 64 * 1024
_HEAD_ENDS = b"\r\n\r\n"
_LENGTH = re.compile(rb"^content-length[ \t]*:[ \t]*(\d{1,15})[ \t]*\r?$", re.I | re.M)
_CHUNKED = re.compile(rb"^transfer-encoding[ \t]*:", re.I | re.M)
_EXPECTS = re.compile(rb"^expect[ \t]*:[ \t]*100-continue[ \t]*\r?$", re.I | re.M)


class Inbox:
    """The bytes of one connection in the order they came; a file to the server's threads."""

    def __init__(self, sock: socket.socket) -> None:
        self.sock = sock
        self.held = bytearray()
        self.bytes_read = 0
        self.deadline = 0.0  # of what a thread still waits for, on the monotonic clock
        self.closed = False

    def receive(self) -> bool:
        """Takes what has arrived; False where the other end has closed. Never waits: raises what a
        socket raises that would have to.
        """
        came = self.sock.recv(_AT_ONCE)
        self.held += came
        return bool(came)

    def has_data(self) -> bool:
        """Is the beginning of another request here already?"""
        return bool(self.held) or (isinstance(self.sock, ssl.SSLSocket) and self.sock.pending() > 0)

    def is_whole(self) -> bool:
        """Can a thread answer without waiting for the other end?"""
        head = self._head()
        if head is None:
            return False
        length = body_length(head)
        self.deadline = time.monotonic() + BODY_S + length / SLOWEST_BYTES_A_SECOND
        is_long = length > BODY_BYTES or _CHUNKED.search(head)
        return bool(is_long) or len(self.held) >= len(head) + length

    def expects_word(self) -> bool:
        """Does the other end wait to be told that its body is wanted (RFC 9110 10.1.1)?"""
        head = self._head()
        return head is not None and len(self.held) == len(head) and bool(_EXPECTS.search(head))

    def _head(self) -> bytes | None:
        """The head, once its end is here; all that is here, where it can be no head any more."""
        end = self.held.find(_HEAD_ENDS)
        if end >= 0:
            return bytes(self.held[: end + len(_HEAD_ENDS)])
        first_line = self.held.find(b"\n")
        broken = first_line >= 0 and self.held[first_line - 1 : first_line] != b"\r"
        return bytes(self.held) if broken or len(self.held) > HEADER_BYTES else None

    def read(self, size: int = -1) -> bytes:
        """At most `size` bytes; waits for them until the deadline. Raises TimeoutError."""
        while (size < 0 or len(self.held) < size) and self._wait():
            pass
        return self._take(len(self.held) if size < 0 else size)

    def readline(self, size: int = -1) -> bytes:
        """Up to the end of a line and at most `size` bytes. Raises TimeoutError."""
        while True:
            most = len(self.held) if size < 0 else min(size, len(self.held))
            end = self.held.find(b"\n", 0, most)
            if end >= 0:
                return self._take(end + 1)
            if (0 <= size <= len(self.held)) or not self._wait():
                return self._take(most)

    def close(self) -> None:
        """Nothing more is read from here; the socket is closed by its connection."""
        self.closed = True
        self.held.clear()

    def _take(self, size: int) -> bytes:
        taken = bytes(self.held[:size])
        del self.held[:size]
        self.bytes_read += len(taken)
        return taken

    def _wait(self) -> bool:
        left_s = self.deadline - time.monotonic()
        if left_s <= 0:
            raise TimeoutError("timed out")
        before = self.sock.gettimeout()
        self.sock.settimeout(left_s if before is None else min(before, left_s))
        try:
            return self.receive()
        finally:
            self.sock.settimeout(before)


def body_length(head: bytes) -> int:
    """What the head says of its body, in bytes; the most where it says it twice."""
    return max((int(found) for found in _LENGTH.findall(head)), default=0)
