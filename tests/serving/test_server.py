"""The server itself, over real sockets: HTTPS, many phones at once, a clean end, and the page that
hands the authority out.
"""

from __future__ import annotations

import argparse
import os
import signal
import socket
import ssl
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from support.paths import CHECKOUT
from support.served_settings import fetch, hello, plain, running, secure

from fitcounter.errors import Unavailable
from fitcounter.serving import certificate, server
from fitcounter.settings import Settings

__all__ = ["plain", "secure"]


def test_pages_come_over_https_to_a_phone_that_trusts_the_shop(secure: Settings) -> None:
    """TLS with the own certificate, and the application knows the scheme."""
    with running(secure):
        assert fetch(secure)[:2] == (200, b"https")


def test_an_address_typed_without_https_leads_there(secure: Settings) -> None:
    """A plain HTTP request on the HTTPS port is sent to the HTTPS address."""
    with running(secure):
        status, _, answer = fetch(replace(secure, https=False))

        assert (status, answer.headers["Location"]) == (307, f"{secure.base_url}/")
        assert fetch(secure)[0] == 200


@pytest.mark.parametrize("kind", ["plain", "secure"])
def test_phones_that_open_a_connection_and_say_nothing_hold_nobody_up(
    kind: str, request: pytest.FixtureRequest
) -> None:
    """With forty silent connections, five times as many as threads, a page still comes at once;
    bare and TLS.
    """
    settings: Settings = request.getfixturevalue(kind)
    with running(settings), ExitStack() as silent:
        for _ in range(40):
            silent.enter_context(socket.create_connection(("127.0.0.1", settings.port)))
        start = time.monotonic()
        assert fetch(settings)[0] == 200
        assert time.monotonic() - start < 2  # one that waits its turn waits for IDLE_S


def test_a_request_that_never_ends_its_headers_is_cut_off(plain: Settings) -> None:
    """More than 32 KB of headers are refused, whatever else is asked."""
    with running(plain), socket.create_connection(("127.0.0.1", plain.port), timeout=10) as phone:
        phone.sendall(b"GET / HTTP/1.1\r\nHost: x\r\nX-Long: " + b"a" * 40_000 + b"\r\n\r\n")
        assert phone.recv(12).startswith(b"HTTP/1.1 431")


def test_a_port_that_is_taken_gets_a_sentence_and_another_is_found(plain: Settings) -> None:
    """The shop's own port must be free; the demo takes the next free one."""
    with running(plain):
        with pytest.raises(Unavailable, match="Choose another with --port"):
            server.listen(hello, plain)
        assert server.free_port("127.0.0.1", plain.port) != plain.port


PROGRAM = """
import signal, sys, time
from pathlib import Path
from fitcounter.serving import server
from fitcounter.settings import Settings
def slow(environ, start_response):
    print("begun", flush=True)
    time.sleep(1)
    start_response("200 OK", [("Content-Length", "4")])
    return [b"done"]
# tests that run in the background are born deaf to Ctrl-C
signal.signal(signal.SIGINT, signal.default_int_handler)
server.serve(slow, Settings(data_dir=Path("."), port=int(sys.argv[1])), "open")
print("closed", flush=True)
"""


MEANWHILE = """
import sys
from pathlib import Path
from fitcounter.serving import server
from fitcounter.settings import Settings
def says(words):
    def application(environ, start_response):
        start_response("200 OK", [("Content-Length", str(len(words)))])
        return [words]
    return application
settings = Settings(data_dir=Path("."), port=int(sys.argv[1]))
with server.meanwhile(says(b"a moment"), settings) as begun:
    print("opening", flush=True)
    sys.stdin.readline()
    server.serve(says(b"the shop"), settings, "open", begun=begun)
print("closed", flush=True)
"""


def test_what_answers_meanwhile_makes_room_for_the_shop_at_the_same_port(plain: Settings) -> None:
    """A page that refreshes itself never finds the door shut."""
    line = [sys.executable, "-c", MEANWHILE, str(plain.port)]
    pipe = subprocess.PIPE
    with subprocess.Popen(line, cwd=CHECKOUT, stdin=pipe, stdout=pipe, text=True) as program:
        assert program.stdout is not None
        assert program.stdin is not None
        assert program.stdout.readline() == "opening\n"
        assert fetch(plain)[1] == b"a moment"
        program.stdin.write("\n")
        program.stdin.flush()
        seen = [fetch(plain)[1]]
        assert program.stdout.readline() == "open\n"
        seen.append(fetch(plain)[1])
        assert set(seen[:-1]) <= {b"a moment", b"the shop"}
        assert seen[-1] == b"the shop"
        program.terminate()
        assert program.stdout.readline() == "closed\n"
        assert program.wait(timeout=10) == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_told_to_stop_it_lets_a_request_under_way_finish(
    plain: Settings, number: signal.Signals
) -> None:
    """SIGTERM and Ctrl-C end the program with code 0 after the answer that was being made."""
    line = [sys.executable, "-c", PROGRAM, str(plain.port)]
    with subprocess.Popen(line, cwd=CHECKOUT, stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "open\n"
        answers: list[bytes] = []
        phone = threading.Thread(target=lambda: answers.append(fetch(plain)[1]))
        phone.start()
        assert program.stdout.readline() == "begun\n"
        os.kill(program.pid, number)
        phone.join()
        assert answers == [b"done"]
        assert program.stdout.readline() == "closed\n"
        assert program.wait(timeout=10) == 0


def test_a_shop_with_its_own_certificate_is_served_with_it(secure: Settings) -> None:
    """`serve` finds the certificate, trusts its names as hosts, and leaves it alone behind a
    proxy.
    """
    now = datetime.now(UTC)
    given = argparse.Namespace(data=str(secure.data_dir))

    found = certificate.with_own_certificate(given, {}, now)
    assert (found.https, found.certificate, found.base_url) == (
        True,
        secure.certificate,
        "https://127.0.0.1:8000",
    )
    assert {"127.0.0.1", "localhost"} <= set(found.trusted_hosts)

    behind = certificate.with_own_certificate(
        given, {"FITCOUNTER_PROXIES": "1", "FITCOUNTER_ADDRESS": "https://boots.example"}, now
    )
    assert (behind.https, behind.certificate) == (True, None)


def test_a_phone_that_goes_away_in_the_middle_of_an_answer_leaves_nothing_in_the_log(
    secure: Settings, capfd: pytest.CaptureFixture[str]
) -> None:
    """Somebody locks the phone or walks out of the net: no error of anybody's."""
    gone, ended = threading.Event(), threading.Event()

    def long(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterator[bytes]:
        start_response("200 OK", [("Content-Length", str(64 * 70_000))])
        try:
            yield b"a" * 70_000
            assert gone.wait(10)
            for _ in range(63):
                yield b"a" * 70_000
                time.sleep(0.01)
        finally:
            ended.set()

    trust = ssl.create_default_context(
        cafile=str(secure.data_dir / "certificate" / "authority.crt")
    )
    with running(secure, long):
        bare = socket.create_connection(("127.0.0.1", secure.port), timeout=10)
        with trust.wrap_socket(bare, server_hostname="127.0.0.1") as phone:
            phone.sendall(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            assert phone.recv(1000).startswith(b"HTTP/1.1 200")
        gone.set()
        assert ended.wait(10)
    assert capfd.readouterr().err == ""
