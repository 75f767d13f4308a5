"""The program's own server: one process, a few threads, HTTPS when there is a certificate (cheroot,
HTTP/1.1).

Two things are done otherwise than cheroot does them, because phones open connections ahead of need
and lose the network in the middle of a handshake: a connection waits for its first byte outside the
threads, and the TLS handshake (RFC 8446) is done by a thread, not by the one loop that lets
everybody in.
"""

from __future__ import annotations

import argparse
import gc
import logging
import os
import signal
import socket
import ssl
import sys
import threading
import time
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from typing import Any

from cheroot import wsgi
from cheroot.server import HTTPConnection, HTTPRequest
from cheroot.ssl.builtin import BuiltinSSLAdapter

from fitcounter.errors import Unavailable
from fitcounter.serving import certificate
from fitcounter.settings import Settings

THREADS = 8
IDLE_S = 20
HEADER_BYTES = 32 * 1024
KEPT_OPEN = 200
Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


class LateHandshake(BuiltinSSLAdapter):
    """TLS whose handshake is left to the thread that answers."""

    def __init__(self, settings: Settings) -> None:
        super().__init__(str(settings.certificate), str(settings.certificate_key))
        self.context.minimum_version = ssl.TLSVersion.TLSv1_2
        self.base_url = settings.base_url

    def wrap(self, sock: socket.socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        secured = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return secured, {"wsgi.url_scheme": "https", "HTTPS": "on"}


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
            self.close_connection = True
            self.simple_response("411 Length Required", "Send it whole, with its length.")
            return False
        return True

    def simple_response(self, status: str, msg: str = "") -> None:
        """Answer without the application, and read nothing more: what is left of the headers is no
        request.
        """
        if "headers" in msg and status.startswith("413"):
            status, self.close_connection = "431 Request Header Fields Too Large", True
        super().simple_response(status, msg)


class Connection(HTTPConnection):
    """A connection that has not spoken until its first byte is there."""

    RequestHandlerClass = Request
    has_spoken = False

    def communicate(self) -> bool:
        """Answer one request; the handshake first, on a new TLS connection.

        True if the connection stays open.
        """
        if isinstance(self.socket, ssl.SSLSocket) and self.socket.version() is None:
            try:
                self.socket.do_handshake()
            except (
                OSError
            ) as error:  # the phone went away, distrusts the certificate, or speaks plain HTTP
                if "http request" in str(error).lower():
                    self._send_to_https()
                return False
        return bool(super().communicate())  # type: ignore[no-untyped-call]  # cheroot has hints for some

    def _send_to_https(self) -> None:
        """Answer a plain HTTP request on the HTTPS port: somebody typed the address without
        https://.
        """
        answer = (
            "HTTP/1.1 307 Temporary Redirect\r\nLocation:"
            f" {self.server.ssl_adapter.base_url}/\r\nContent-Length: 0\r\n"
        )
        with suppress(OSError):
            os.write(self.socket.fileno(), f"{answer}Connection: close\r\n\r\n".encode("ascii"))


class Server(wsgi.Server):
    """cheroot's WSGI server, with silent connections kept away from its threads."""

    ConnectionClass = Connection
    max_request_header_size = HEADER_BYTES
    keep_alive_conn_limit = KEPT_OPEN

    def process_conn(self, conn: Connection) -> None:
        """Queue a connection for a thread; a new one only once it has said something."""
        if conn.has_spoken:
            super().process_conn(conn)
        else:
            conn.has_spoken = True
            self._connections.put(conn)  # type: ignore[attr-defined]  # set by prepare(); left out of cheroot's hints

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
        """Log an error; a phone that hung up in the middle of an answer is none, over TLS as over
        plain HTTP.
        """
        if not isinstance(sys.exc_info()[1], ssl.SSLEOFError):
            super().error_log(msg, level, traceback)


def listen(application: Application, settings: Settings) -> Server:
    """A server that listens already and answers once its serve() runs.

    Raises Unavailable when the port is taken.
    """
    server = Server(
        (settings.host, settings.port),
        application,
        numthreads=THREADS,
        timeout=IDLE_S,
        request_queue_size=128,
    )
    if settings.certificate:
        server.ssl_adapter = LateHandshake(settings)
    taken = (
        f"{settings.host} port {settings.port} cannot be opened: it is in use or not allowed."
        " Choose another with --port."
    )
    if free_port(settings.host, settings.port) != settings.port:
        raise Unavailable(taken, typed=str(settings.port), field="port")
    try:
        server.prepare()
    except OSError as error:
        raise Unavailable(taken, typed=str(settings.port), field="port") from error
    return server


def serve(application: Application, settings: Settings, greeting: str) -> None:
    """Serve until SIGTERM or Ctrl-C, then let the requests under way finish (5 s at most).

    greeting: printed once the port is open. Raises Unavailable when it cannot be opened.
    """
    _log_in_utc()
    server, enough = listen(application, settings), threading.Event()
    # not by an error raised into the midst of whatever runs: raised inside a finalizer it is
    # dropped, and the server never stops
    before = signal.signal(signal.SIGTERM, lambda *_: enough.set())
    thread = threading.Thread(target=_answer, args=(server, enough), name="server", daemon=True)
    try:
        print(greeting, flush=True)
        gc.collect()
        # what was made so far stays to the end: nobody's answer waits while it is searched for what
        # may go
        gc.freeze()
        thread.start()
        enough.wait()
    except KeyboardInterrupt:
        pass
    finally:
        server.stop()
        signal.signal(signal.SIGTERM, before)


def _answer(server: Server, enough: threading.Event) -> None:
    """Serve until told to stop; where it ends by itself the program ends too."""
    try:
        server.serve()
    finally:
        enough.set()


def _log_in_utc() -> None:
    """What is logged goes to the terminal alone, one line each, with its instant in UTC (OWASP ASVS
    5.0 16.2.1, 16.2.2).
    """
    line = logging.Formatter("%(asctime)sZ %(levelname)s %(message)s", "%Y-%m-%dT%H:%M:%S")
    line.converter = time.gmtime
    to_terminal = logging.StreamHandler()
    to_terminal.setFormatter(line)
    logging.getLogger("fitcounter").handlers = [to_terminal]


def free_port(host: str, wanted: int) -> int:
    """`wanted`, or any free port if that one is taken."""
    for port in (wanted, 0):
        with (
            socket.socket(
                socket.AF_INET6 if ":" in host else socket.AF_INET, socket.SOCK_STREAM
            ) as probe,
            suppress(OSError),
        ):
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((host, port))
            return int(probe.getsockname()[1])
    return wanted


def with_own_certificate(
    given: argparse.Namespace, environ: Mapping[str, str], now: datetime
) -> Settings:
    """The settings of a shop; with the certificate of `fitcounter certificate`, renewed if due,
    when one was made.

    A certificate that was given wins, and behind a proxy the proxy has the certificate.
    """
    settings = Settings.from_environment(environ, vars(given))
    files = certificate.Files(settings.data_dir / "certificate")
    if settings.certificate or settings.proxies or not files.server.is_file():
        return settings
    certificate.renew_if_due(files.folder, now)
    names = certificate.names(files.folder)
    own = {"certificate": files.server, "key": files.server_key}
    address = (
        vars(given).get("address")
        or environ.get("FITCOUNTER_ADDRESS")
        or f"https://{names[0]}:{settings.port}"
    )
    settings = Settings.from_environment(environ, vars(given) | own | {"address": address})
    return replace(settings, trusted_hosts=tuple(dict.fromkeys((*settings.trusted_hosts, *names))))
