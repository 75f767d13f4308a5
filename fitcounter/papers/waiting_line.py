"""A line of people who want the same thing: one at a time, in the order they came."""

from __future__ import annotations

import threading
from collections import deque


class WaitingLine:
    """Whoever comes is let in at once where nobody is before; else when all before have gone.

    A plain lock lets in whoever the system wakes first, and so leaves somebody standing on a busy
    machine. most: in the line, whoever is inside counted.
    """

    def __init__(self, most: int) -> None:
        self.most = most
        self._guard = threading.Lock()
        self._line: deque[threading.Event] = deque()  # the first of it is inside

    def come(self, patience_s: float) -> bool:
        """True once inside; False, and not in the line, where it is full, after so many seconds,
        and when sent home.
        """
        let_in = threading.Event()
        with self._guard:
            if len(self._line) == self.most:
                return False
            self._line.append(let_in)
            if len(self._line) == 1:
                let_in.set()
        let_in.wait(patience_s)
        with self._guard:
            if self._line and self._line[0] is let_in:
                return True
            if let_in in self._line:
                self._line.remove(let_in)
        return False

    def go(self) -> None:
        """Leaves, and lets the next one in."""
        with self._guard:
            self._line.popleft()
            if self._line:
                self._line[0].set()

    def send_home(self) -> None:
        """All who wait leave; whoever is inside stays."""
        with self._guard:
            while len(self._line) > 1:
                self._line.pop().set()
