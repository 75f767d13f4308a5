"""A shop that is open: the real server on a real file, with a clock that the test moves."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from support.cast import Clock

from fitcounter.serving import certificate, server
from fitcounter.settings import Settings
from fitcounter.web import create_app


@contextmanager
def open_shop(data_dir: Path, clock: Clock, port: int = 0, https: bool = False) -> Iterator[str]:
    """The address of a server in this process, as `fitcounter serve` runs it; over HTTPS with the
    shop's own certificate.
    """
    port = server.free_port("127.0.0.1", port)
    settings = Settings(data_dir=data_dir, port=port, base_url=f"http://localhost:{port}")
    if https:
        files = certificate.make(data_dir / "certificate", ["localhost"], "Shop", datetime.now(UTC))
        keys = {"certificate": files.server, "certificate_key": files.server_key}
        settings = replace(settings, https=True, base_url=f"https://localhost:{port}", **keys)
    running = server.listen(create_app(settings, clock), settings)
    thread = threading.Thread(target=running.serve)
    thread.start()
    try:
        yield settings.base_url
    finally:
        running.stop()
        thread.join()
