"""One connection, from its first byte to its last.

While it arrives (handshake, head, form) it belongs to the loop and holds no thread, so that whoever
is slow, or says nothing, holds up nobody. A thread has it while it is answered. Where something of
a request was left unread, the loop has it once more for a few seconds and throws away what still
comes: closed at once, the other end might never read the answer (RFC 9112 9.6).
"""

from __future__ import annotations

import os
import socket
import ssl
import time
from contextlib import suppress
from enum import Enum
from typing import Any

from cheroot.server import HTTPConnection, HTTPRequest

from fitcounter.serving.inbox import Inbox

IDLE_S = 20  # between requests, and before the first byte
HANDSHAKE_S = 10
HEAD_S = 10
LINGER_S = 5
LINGER_BYTES = 32 * 1024 * 1024
_THROWN_AWAY = 64 * 1024


CUT = b"HTTP/1.1 400 Bad Request\r\nConnection: close\r\nContent-Length: 0\r\n\r\n"


class Arrival(Enum):
    """What the loop does with a connection: waits on, gives it to a thread, or closes it."""

    READ = "read"
    WRITE = "write"
    WHOLE = "whole"
    GONE = "gone"


class Request(HTTPRequest):
    """A request whose headers are told apart from its body when they are too long (RFC 6585: 431),
    and that says how long it is.

    No browser sends a form in chunks of unknown number; what does gets 411 (RFC 9112 6.3) before
    anything of it is read.
    """

    def read_request_headers(self) -> bool:
        """Read them; False where they were refused."""
        if not super().read_request_headers():  # type: ignore[no-untyped-call]
            return False
        if self.chunked_read:
            self.simple_response("411 Length Required", "Send it whole, with its length.")
            return False
        return True

    def simple_response(self, status: str, msg: str = "") -> None:
        """Answer without the application, and read nothing more: what is left of the headers is no
        request.
        """
        if "headers" in msg and status.startswith("413"):
            status = "431 Request Header Fields Too Large"
        self.close_connection = self.conn.unread = True
        super().simple_response(status, msg)

    def send_headers(self) -> None:
        """Send them; a body that nobody read is not read now either, and the connection ends."""
        if getattr(self.rfile, "remaining", 0) > len(self.conn.rfile.held):
            self.close_connection = self.conn.unread = True
        super().send_headers()


class Connection(HTTPConnection):
    """A connection that is given to a thread once its request is whole."""

    RequestHandlerClass = Request
    rfile: Inbox

    def __init__(self, server: Any, sock: socket.socket, makefile: Any) -> None:
        def file(of: socket.socket, mode: str, size: int) -> Any:
            return Inbox(of) if "r" in mode else makefile(of, mode, size)

        super().__init__(server, sock, file)
        self.shaken = not isinstance(sock, ssl.SSLSocket)
        self.is_new = True
        self.begun = False  # something of the handshake or of a request is here
        self.told = False  # that the body is wanted
        self.unread = False
        self.thrown_away = -1  # bytes, since it was answered and left to linger
        self.has_until(IDLE_S)

    def has_until(self, seconds: float) -> None:
        """It is closed by the loop then. (The loop closes what was not used for IDLE_S.)"""
        self.last_used = time.time() - IDLE_S + seconds

    def arrive(self) -> Arrival:
        """Take what is there, without waiting for more."""
        try:
            self.socket.settimeout(0)
            return self._throw_away() if self.thrown_away >= 0 else self._arrive()
        except (BlockingIOError, ssl.SSLWantReadError):
            return Arrival.READ
        except ssl.SSLWantWriteError:
            return Arrival.WRITE
        except (OSError, ValueError):  # went away, distrusts the certificate, speaks no TLS
            return Arrival.GONE

    def _arrive(self) -> Arrival:
        if not self.shaken:
            self._shake()
        while not self.rfile.is_whole():
            if not self.rfile.receive():
                if self.begun:  # cut in the middle: whoever still listens is told
                    self.socket.send(CUT)
                return Arrival.GONE
            if not self.begun:
                self.begun, self.told = True, False
                self.has_until(HEAD_S)
            if not self.told and self.rfile.expects_word() and not self.rfile.is_whole():
                self.told = True
                self.socket.send(b"HTTP/1.1 100 Continue\r\n\r\n")
        self.begun = False
        return Arrival.WHOLE

    def _shake(self) -> None:
        """The handshake (RFC 8446), as far as it goes."""
        if not self.begun and self._speaks():
            self.begun = True
            self.has_until(HANDSHAKE_S)
        try:
            self.socket.do_handshake()
        except (BlockingIOError, ssl.SSLWantReadError, ssl.SSLWantWriteError):
            raise
        except OSError as error:
            if "http request" in str(error).lower():
                self._send_to_https()
            raise
        self.shaken, self.begun = True, False
        self.has_until(IDLE_S)

    def _speaks(self) -> bool:
        """Is the first byte there?"""
        with socket.socket(fileno=os.dup(self.socket.fileno())) as bare:
            bare.setblocking(False)
            with suppress(BlockingIOError):
                return bool(bare.recv(1, socket.MSG_PEEK))
        return False

    def _send_to_https(self) -> None:
        """Answer a plain HTTP request on the HTTPS port: somebody typed the address without
        https://.
        """
        answer = (
            "HTTP/1.1 307 Temporary Redirect\r\nLocation:"
            f" {self.server.ssl_adapter.base_url}/\r\nContent-Length: 0\r\n"
        )
        self.unread = True
        with suppress(OSError):
            os.write(self.socket.fileno(), f"{answer}Connection: close\r\n\r\n".encode("ascii"))

    def _throw_away(self) -> Arrival:
        while self.thrown_away < LINGER_BYTES:
            came = len(self.socket.recv(_THROWN_AWAY))
            if not came:
                break
            self.thrown_away += came
        return Arrival.GONE

    def close(self) -> None:
        """Close it; or, while the other end still sends, say that nothing more comes from here."""
        if self.unread and self.thrown_away < 0:
            self.thrown_away = 0
            with suppress(OSError):
                self.socket.settimeout(0)
                self.socket.shutdown(socket.SHUT_WR)
                self.rfile.close()
                self.has_until(LINGER_S)
                if self.server.watch(self, Arrival.READ):
                    return
        with suppress(OSError):  # the other end, or a server that ends, was there first
            super().close()
