"""A test in a thread of its own: beside a browser the first one has a loop that never ends, and
what is tested begins its own.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import wraps
from typing import ParamSpec

P = ParamSpec("P")


def in_own_thread(test: Callable[P, None]) -> Callable[P, None]:
    @wraps(test)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        with ThreadPoolExecutor(1) as one:
            one.submit(test, *args, **kwargs).result()

    return run
