"""A JSON text (RFC 8259) read a piece at a time: whoever reads says where an object or an array is
walked through and where a value is wanted whole, so that no more is held than the largest of those.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from typing import Any, TextIO

AT_ONCE = 64 * 1024
MOST = 32 * 1024 * 1024  # characters of one value: a photo of the largest size takes half
GOES_ON = "0123456789.eE+-"  # a figure that is not all here yet
_BLANKS = re.compile(r"[ \t\n\r]*")


class NoJson(Exception):
    """The text is none, ends in the middle, or is not what was asked for."""


class Pieces:
    """The text of a file, from where it stands to its end. read: called with how many bytes of it
    are read by now.
    """

    def __init__(self, file: TextIO, read: Callable[[int], None] = lambda size: None) -> None:
        self._file, self._read = file, read
        self._decode = json.JSONDecoder().raw_decode
        self._text, self._at, self._over = "", 0, False

    def names(self) -> Iterator[str]:
        """Of an object; whoever takes a name reads its value before the next one."""
        for _ in self._walk("{", "}"):
            key = self.value()
            if not isinstance(key, str):
                raise NoJson
            self._take(":")
            yield key

    def values(self) -> Iterator[Any]:
        """Of an array, each whole."""
        for _ in self._walk("[", "]"):
            yield self.value()

    def value(self) -> Any:
        """The next value, whole."""
        self._next()
        while True:
            try:
                found, end = self._decode(self._text, self._at)
            except json.JSONDecodeError:  # wrong, or not all of it is here yet
                if self._over or len(self._text) - self._at > MOST:
                    raise NoJson from None
            except (ValueError, RecursionError) as error:  # a figure or a nest without end
                raise NoJson from error
            else:
                if self._over or (end < len(self._text) and self._text[end] not in GOES_ON):
                    self._at = end
                    return found
                if len(self._text) - self._at > MOST:
                    raise NoJson
            self._fill()

    def end(self) -> None:
        """Raises NoJson where anything follows."""
        if self._next():
            raise NoJson

    def _walk(self, first: str, last: str) -> Iterator[None]:
        self._take(first)
        if self._next() == last:
            self._at += 1
            return
        while True:
            yield
            mark = self._next()
            self._at += 1
            if mark == last:
                return
            if mark != ",":
                raise NoJson

    def _take(self, mark: str) -> None:
        if self._next() != mark:
            raise NoJson
        self._at += 1

    def _next(self) -> str:
        """The next character that is no blank, which stays; '' at the end."""
        while True:
            found = _BLANKS.match(self._text, self._at)
            self._at = found.end() if found else self._at
            if self._at < len(self._text):
                return self._text[self._at]
            if self._over:
                return ""
            self._fill()

    def _fill(self) -> None:
        """More of the text, as much again as is held."""
        rest = self._text[self._at :]
        try:
            more = self._file.read(max(AT_ONCE, len(rest)))
        except UnicodeDecodeError as error:
            raise NoJson from error
        self._text, self._at, self._over = rest + more, 0, not more
        self._read(self._file.buffer.tell())
