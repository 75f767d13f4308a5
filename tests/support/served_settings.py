"""The server of the program in a thread of the test, plain and with a certificate of its own."""

from __future__ import annotations

import http.client
import ssl
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from fitcounter.serving import certificate, server
from fitcounter.settings import Settings


def hello(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
    """A WSGI application that says by which scheme it was reached."""
    body = environ["wsgi.url_scheme"].encode()
    start_response("200 OK", [("Content-Type", "text/plain"), ("Content-Length", str(len(body)))])
    return [body]


@contextmanager
def running(settings: Settings, application: server.Application = hello) -> Iterator[server.Server]:
    """The server, answering in a thread until the end of the block."""
    one = server.listen(application, settings)
    thread = threading.Thread(target=one.serve)
    thread.start()
    try:
        yield one
    finally:
        one.stop()
        thread.join()


@pytest.fixture
def plain(tmp_path: Path) -> Settings:
    return Settings(data_dir=tmp_path, port=server.free_port("127.0.0.1", 0))


@pytest.fixture
def secure(plain: Settings) -> Settings:
    files = certificate.make(
        plain.data_dir / "certificate", ["127.0.0.1"], "Shop", datetime.now(UTC)
    )
    address = f"https://127.0.0.1:{plain.port}"
    return replace(
        plain,
        certificate=files.server,
        certificate_key=files.server_key,
        https=True,
        base_url=address,
    )


def fetch(settings: Settings, path: str = "/") -> tuple[int, bytes, http.client.HTTPResponse]:
    """GET a page as a phone that has installed the authority."""
    if settings.https:
        trust = ssl.create_default_context(
            cafile=str(settings.data_dir / "certificate" / "authority.crt")
        )
        phone: http.client.HTTPConnection = http.client.HTTPSConnection(
            "127.0.0.1", settings.port, timeout=10, context=trust
        )
    else:
        phone = http.client.HTTPConnection("127.0.0.1", settings.port, timeout=10)
    phone.request("GET", path)
    answer = phone.getresponse()
    body = answer.read()
    phone.close()
    return answer.status, body, answer
