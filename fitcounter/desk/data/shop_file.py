"""A file of `fitcounter export`, read a row or a picture at a time: looked through from end to end
first, so that nothing is put in of one that is not whole.
"""

from __future__ import annotations

import base64
import binascii
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from fitcounter import how_far
from fitcounter.desk.common.files import in_words
from fitcounter.desk.common.translation import say
from fitcounter.desk.data.json_pieces import NoJson, Pieces
from fitcounter.desk.data.whole_shop import KIND, is_picture
from fitcounter.errors import BadInput, NotFound, message
from fitcounter.store.every_table import Table

NOT_OURS = message("That is not a file of `fitcounter export`. Name one that it wrote.")
PARTS = {"kind", "tables", "files", "content_hash"}
READING = message("Reading the file")


@dataclass(slots=True)
class Looked:
    """What a file holds. rows: how many of each table. pictures: folder/name of each."""

    content_hash: str = ""
    rows: dict[str, int] = field(default_factory=dict)
    pictures: set[str] = field(default_factory=set)


def look(source: Path, aside: Path) -> Looked:
    """Reads it to its end. aside: an empty folder that its pictures are put into.

    Raises NotFound, BadInput, NoRoom, Unavailable.
    """
    found, kind, seen = Looked(), "", set()
    with _pieces(source, partial(_tell, source)) as pieces:
        for key in pieces.names():
            seen.add(key)
            if key == "kind":
                kind = pieces.value()
            elif key == "content_hash":
                found.content_hash = str(pieces.value())
            elif key == "tables":
                for table in _tables(pieces):
                    found.rows[table.name] = sum(1 for _ in table.rows)
            elif key == "files":
                for name in pieces.names():
                    _keep(aside, name, pieces.value())
                    found.pictures.add(name)
            else:
                pieces.value()
        pieces.end()
    if kind != KIND or not seen >= PARTS:
        raise BadInput(NOT_OURS, field="file")
    return found


def tables(source: Path) -> Iterator[Table]:
    """Its tables, whose rows are read as they are taken; all of one before the next.

    Raises NotFound, BadInput.
    """
    with _pieces(source) as pieces:
        for key in pieces.names():
            if key == "tables":
                yield from _tables(pieces)
            else:
                pieces.value()


def _tables(pieces: Pieces) -> Iterator[Table]:
    for name in pieces.names():
        keys = pieces.names()
        if next(keys, "") != "columns" or not isinstance(columns := pieces.value(), list):
            raise NoJson
        if next(keys, "") != "rows":
            raise NoJson
        yield Table(name, columns, pieces.values())
        if next(keys, None) is not None:
            raise NoJson


def _keep(aside: Path, name: str, text: object) -> None:
    """A picture; a name that would lead elsewhere is refused."""
    if not is_picture(name) or not isinstance(text, str):
        raise NoJson
    content = base64.b64decode(text, validate=True)
    with in_words():
        (aside / name).parent.mkdir(mode=0o700, exist_ok=True)
        (aside / name).touch(mode=0o600)
        (aside / name).write_bytes(content)


def _tell(source: Path, read: int) -> None:
    how_far.tell(READING, read, max(1, source.stat().st_size))


@contextmanager
def _pieces(source: Path, read: Callable[[int], None] = lambda size: None) -> Iterator[Pieces]:
    """Whatever is wrong with the file while it is read is a sentence."""
    try:
        file = source.open(encoding="utf-8-sig")
    except OSError as error:
        raise _unreadable(source, error) from error
    with file:
        try:
            yield Pieces(file, read)
        except OSError as error:
            raise _unreadable(source, error) from error
        except (NoJson, binascii.Error, ValueError) as error:
            raise BadInput(NOT_OURS, field="file") from error


def _unreadable(source: Path, error: OSError) -> NotFound:
    return NotFound(
        say(
            "{name} cannot be read: {strerror}. Name a file of `fitcounter export`.",
            name=source.name,
            strerror=error.strerror,
        )
    )
