"""The program's own server: one process, a few threads, HTTPS when there is a certificate (cheroot,
HTTP/1.1).

One thing is done otherwise than cheroot does it, because phones open connections ahead of need and
lose the network in the middle of a word, and because not everybody in the network means well: a
connection arrives outside the threads (`connection`), within a time for each part of it.
"""

from __future__ import annotations

import ctypes
import gc
import logging
import selectors
import signal
import socket
import ssl
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from cheroot import wsgi
from cheroot.ssl.builtin import BuiltinSSLAdapter

from fitcounter.errors import Unavailable, message
from fitcounter.serving.connection import IDLE_S, Arrival, Connection
from fitcounter.serving.inbox import HEADER_BYTES
from fitcounter.settings import Settings

THREADS = 12
LOOK_S = 1.0
LET_FINISH_S = 5
ANSWER_S = 20  # of a write that the other end does not read
ANSWER_BYTES = 512 * 1024  # that the system holds for a slow reader
KEPT_OPEN = 600
OF_ADDRESS = 64
BODY_BYTES = 40 * 1024 * 1024  # beyond it, nothing is asked of the application
LARGE_BYTES = 256 * 1024
ARENAS = 2
LOOKED_THROUGH_AFTER = 30_000
Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


class LateHandshake(BuiltinSSLAdapter):
    """TLS whose handshake is left to the loop, which does not wait for it."""

    def __init__(self, settings: Settings) -> None:
        super().__init__(str(settings.certificate), str(settings.certificate_key))
        self.context.minimum_version = ssl.TLSVersion.TLSv1_2
        self.base_url = settings.base_url

    def wrap(self, sock: socket.socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        secured = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return secured, {"wsgi.url_scheme": "https", "HTTPS": "on"}


class Server(wsgi.Server):
    """cheroot's WSGI server, with connections kept away from its threads until there is something
    to answer.
    """

    ConnectionClass = Connection
    max_request_header_size = HEADER_BYTES
    max_request_body_size = BODY_BYTES
    keep_alive_conn_limit = KEPT_OPEN
    proxies: tuple[str, ...] = ()  # addresses that many may come from

    def process_conn(self, conn: Connection) -> None:
        """Take what has arrived of a connection; queue it for a thread once its request is
        whole.
        """
        if conn.is_new:
            conn.is_new = False
            self._make_room(conn.remote_addr)
        arrival = conn.arrive()
        if arrival is Arrival.WHOLE:
            conn.socket.settimeout(ANSWER_S)
            super().process_conn(conn)
        elif arrival is Arrival.GONE or not self.watch(conn, arrival):
            conn.close()

    def watch(self, conn: Connection, arrival: Arrival) -> bool:
        """Let the loop wait for more of a connection; False when the server is being stopped."""
        if self.ready:
            event = selectors.EVENT_WRITE if arrival is Arrival.WRITE else selectors.EVENT_READ
            self._waiting.register(conn.socket.fileno(), event, data=conn)
        return bool(self.ready)

    def _make_room(self, address: str) -> None:
        """Close the connection that waits longest, of an address that holds as many as it may, or
        of the one that holds most where all places are taken.
        """
        waiting: dict[str, list[tuple[int, Connection]]] = {}
        for descriptor, conn in self._waiting.connections:
            if conn is not self:
                waiting.setdefault(conn.remote_addr, []).append((descriptor, conn))
        own = waiting.get(address, [])
        if sum(map(len, waiting.values())) >= KEPT_OPEN:
            own = max(waiting.values(), key=len)
        elif len(own) < OF_ADDRESS or address in self.proxies:
            return
        descriptor, oldest = min(own, key=lambda pair: pair[1].last_used)
        self._waiting.unregister(descriptor)
        oldest.unread = False
        oldest.close()

    @property
    def _waiting(self) -> Any:
        # set by prepare(); left out of cheroot's hints
        return self._connections._selector  # type: ignore[attr-defined]

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
    if settings.proxies:  # everybody comes from its address
        server.proxies = (settings.proxy,) if settings.proxy else ("127.0.0.1", "::1")
    taken = message(
        "{host} port {port} cannot be opened: it is in use or not allowed. Choose another with"
        " --port.",
        host=settings.host,
        port=settings.port,
    )
    if free_port(settings.host, settings.port) != settings.port:
        raise Unavailable(taken, typed=str(settings.port), field="port")
    try:
        server.prepare()
        server.socket.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, ANSWER_BYTES)
    except OSError as error:
        raise Unavailable(taken, typed=str(settings.port), field="port") from error
    return server


class Begun:
    """A server that answers in a thread of its own. ended: set when it ends by itself."""

    def __init__(self, application: Application, settings: Settings) -> None:
        _log_in_utc()
        _return_large_memory()
        self.server, self.ended = listen(application, settings), threading.Event()
        self._thread = threading.Thread(target=self._answer, name="server", daemon=True)

    def answer(self) -> None:
        """From now on, if it does not already."""
        if not self._thread.is_alive():
            self._thread.start()

    def _answer(self) -> None:
        """Until told to stop; where it ends by itself the program ends too."""
        try:
            self.server.serve()
        finally:
            self.ended.set()


@contextmanager
def meanwhile(application: Application, settings: Settings) -> Iterator[Begun]:
    """A server that answers with this application until `serve` is given it with another one.

    Raises Unavailable when the port cannot be opened.
    """
    begun = Begun(application, settings)
    begun.answer()
    try:
        yield begun
    finally:
        begun.server.stop()


def keep_what_stays() -> None:
    """What was made so far stays to the end: nobody's answer waits while it is searched for what
    may go. A page makes thousands of things and drops them again: looked through after each 700,
    they cost it a twentieth of its time.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(LOOKED_THROUGH_AFTER)


def serve(
    application: Application,
    settings: Settings,
    greeting: str,
    hurry: Callable[[], None] = lambda: None,
    begun: Begun | None = None,
) -> None:
    """Serve until SIGTERM or Ctrl-C, then let the requests under way finish.

    greeting: printed once the port is open. hurry: called when they had 5 s for it, and at the
    end, to end what they wait for. begun: a server that listens already, None for a new one. Raises
    Unavailable when the port cannot be opened.
    """
    begun = begun or Begun(application, settings)
    server, enough = begun.server, begun.ended
    server.wsgi_app = application
    # not by an error raised into the midst of whatever runs: raised inside a finalizer it is
    # dropped, and the server never stops
    before = signal.signal(signal.SIGTERM, lambda *_: enough.set())
    try:
        print(greeting, flush=True)
        keep_what_stays()
        begun.answer()
        # a signal that comes just before the wait begins does not end it: it is handled at the next
        # look
        while not enough.wait(LOOK_S):
            pass
    except KeyboardInterrupt:
        pass
    finally:
        impatience = threading.Timer(LET_FINISH_S, hurry)
        impatience.start()
        server.stop()
        impatience.cancel()
        hurry()
        signal.signal(signal.SIGTERM, before)


def _return_large_memory() -> None:
    """Have the C library give a photo's memory back to the system when the photo is done.

    By itself it raises the size from which it does so to the largest it has seen, and keeps that
    much for each thread (mallopt(3): M_MMAP_THRESHOLD, M_ARENA_MAX). Others know no such call.
    """
    with suppress(OSError, AttributeError):
        library = ctypes.CDLL(None)
        library.mallopt(-3, LARGE_BYTES)
        library.mallopt(-8, ARENAS)


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
