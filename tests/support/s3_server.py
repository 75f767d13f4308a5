"""A store that speaks S3, on the loopback: localbucket, whose one key is that of `place`."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from localbucket import S3Error, S3Handler

from fitcounter.desk.data.off_site_settings import S3, OffSite, from_fields

KEY = "AKIAEXAMPLE"


def place(port: int, bucket: str = "boots") -> OffSite:
    typed = {"host": f"http://127.0.0.1:{port}", "bucket": bucket, "region": "us-east-1"}
    return from_fields(S3, {**typed, "folder": "a shop", "key": KEY, "secret": "secret"})


class _Handler(S3Handler):  # type: ignore[misc]
    def log_message(self, *_: object) -> None:
        """Nothing to the terminal."""

    def _dispatch(self, action: Callable[[str, str], None]) -> None:
        if f"Credential={KEY}/" not in self.headers.get("authorization", ""):
            self._send_error(S3Error(HTTPStatus.FORBIDDEN, "InvalidAccessKeyId", "not yours"))
            return
        super()._dispatch(action)


@contextmanager
def served(handler: type[BaseHTTPRequestHandler]) -> Iterator[int]:
    """The port at which it answers while the block runs."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield server.server_port
    finally:
        server.shutdown()
        server.server_close()
        thread.join(10)


@contextmanager
def s3_server(folder: Path) -> Iterator[OffSite]:
    """While the block runs it answers; the place of a bucket in it. folder: of its files."""
    (folder / "boots").mkdir(parents=True)
    with served(type("Handler", (_Handler,), {"data_root": folder})) as port:
        yield place(port)


@contextmanager
def elsewhere() -> Iterator[tuple[OffSite, list[str]]]:
    """A store that sends every request to another server, and what that one hears as signature."""
    heard: list[str] = []

    class Other(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            heard.append(self.headers.get("authorization", ""))
            self.send_response(HTTPStatus.OK)
            self.send_header("content-length", "0")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Nothing to the terminal."""

    class Sends(Other):
        def do_GET(self) -> None:
            self.send_response(HTTPStatus.TEMPORARY_REDIRECT)
            self.send_header("location", f"http://127.0.0.1:{other}/x")
            self.send_header("content-length", "0")
            self.end_headers()

        def do_PUT(self) -> None:
            self.rfile.read(int(self.headers.get("content-length") or 0))
            self.do_GET()

    with served(Other) as other, served(Sends) as sends:
        yield place(sends), heard
