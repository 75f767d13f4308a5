"""A shop that is open: the real server on a real file, with a clock that the test moves."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from cast import Clock

from fitcounter import server
from fitcounter.settings import Settings
from fitcounter.web import create_app


@contextmanager
def open_shop(data_dir: Path, clock: Clock, port: int = 0) -> Iterator[str]:
    """The address of a server in this process, as `fitcounter serve` runs it."""
    port = server.free_port("127.0.0.1", port)
    settings = Settings(data_dir=data_dir, port=port, base_url=f"http://localhost:{port}")
    running = server.listen(create_app(settings, clock), settings)
    thread = threading.Thread(target=running.serve)
    thread.start()
    try:
        yield settings.base_url
    finally:
        running.stop()
        thread.join()
