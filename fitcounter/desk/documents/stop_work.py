"""What makes papers, photos and codes beside the server ends with it."""

from __future__ import annotations

from fitcounter.papers.own_process import LISTS, NETWORK, PICTURES, PRESS


def stop_work() -> None:
    """Ends whatever paper, photo or code is being made, because the server is closing."""
    for process in (PRESS, PICTURES, LISTS, NETWORK):
        process.stop()
