"""The whole shop as one file, written while it is read: no more of it is held than a piece."""

from __future__ import annotations

import base64
import csv
import io
import json
import tempfile
import threading
import weakref
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from functools import partial
from itertools import islice
from pathlib import Path
from typing import Any

from fitcounter import how_far
from fitcounter.desk.book.estimate_csv import safe_cell
from fitcounter.desk.common.files import in_words
from fitcounter.desk.shop import open_store
from fitcounter.store import backup, every_table, pictures
from fitcounter.store.database import utc_text
from fitcounter.store.integrity import ContentHash

KIND = "a whole shop of fitcounter"
ROWS_AT_ONCE = 250
BYTES_AT_ONCE = 256 * 1024
BYTE_ORDER_MARK = "\ufeff"


class WholeShop:
    """Every table as it stands when the first piece is taken, without what opens a door.

    rows: how many went out of each table, once they did. pictures: the files that go with them.
    """

    def __init__(self, data_dir: Path, now: datetime) -> None:
        self.data_dir, self.now = data_dir, now
        self.pictures = _pictures(data_dir)
        self.rows: dict[str, int] = {}

    def as_json(self) -> Iterator[bytes]:
        """One JSON object, which can be put in again: tables, pictures, and the hash of all that
        the tables hold at its end.
        """
        head = _json({"kind": KIND, "made_at": utc_text(self.now)})
        with self._read() as (tables, content):
            before = f'{head[:-1]}, "tables": {{'
            for table in tables:
                named = f'{_json(table.name)}: {{"columns": {_json(table.columns)}, "rows": ['
                yield f"{before}{named}".encode()
                before = ""
                for rows in self._batches(table):
                    yield f"{before}{_json(rows)[1:-1]}".encode()
                    before = ", "
                before = "]}, "
        yield b']}}, "files": {'
        yield from self._pictures_as_json()
        yield f'}}, "content_hash": {_json(content.hexdigest())}}}'.encode()

    def as_csv(self) -> Iterator[bytes]:
        """A ZIP with one CSV a table; a cell that could be a formula gets an apostrophe."""
        sink = _Sink()
        with (
            self._read() as (tables, _),
            zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED) as archive,
        ):
            for table in tables:
                entry = zipfile.ZipInfo(f"{table.name}.csv", self.now.timetuple()[:6])
                entry.compress_type = zipfile.ZIP_DEFLATED
                with archive.open(entry, "w", force_zip64=True) as file:
                    file.write((BYTE_ORDER_MARK + _csv([table.columns])).encode())
                    for rows in self._batches(table):
                        file.write(_csv([safe_cell(cell) for cell in row] for row in rows).encode())
                        yield from sink.taken()
        yield from sink.taken()

    @contextmanager
    def _read(self) -> Iterator[tuple[Iterator[every_table.Table], ContentHash]]:
        """The tables at one moment, and the hash of what was read of them so far."""
        with (
            closing(open_store(self.data_dir / "shop.db")) as store,
            store.one_moment(),
        ):
            content = ContentHash(store)
            yield every_table.take_out(store, content), content

    def _batches(self, table: every_table.Table) -> Iterator[list[tuple[Any, ...]]]:
        self.rows[table.name] = 0
        while rows := list(islice(table.rows, ROWS_AT_ONCE)):
            self.rows[table.name] += len(rows)
            yield rows

    def _pictures_as_json(self) -> Iterator[bytes]:
        """A picture a piece."""
        part = how_far.Part(backup.COPYING_PICTURES, partial(len, self.pictures))
        for n, file in enumerate(part.each(self.pictures)):
            content = _json(base64_of(self.data_dir / file))
            yield f"{', ' if n else ''}{_json(file)}: {content}".encode()


class HeldFile:
    """Pieces written to a file without a name, which is gone when nobody holds it any more, and
    read from it as often as they are asked for.

    folder: on the disk that the file takes its room from. size: in bytes. Raises NoRoom,
    Unavailable.
    """

    def __init__(self, pieces: Iterable[bytes], folder: Path) -> None:
        self._guard = threading.Lock()
        with in_words():
            self._file = tempfile.TemporaryFile(dir=folder)  # noqa: SIM115 - held like this object
            weakref.finalize(self, self._file.close)
            self._file.writelines(pieces)
            self.size = self._file.tell()

    def pieces(self) -> Iterator[bytes]:
        """From its beginning, whoever else reads it."""
        for start in range(0, self.size, BYTES_AT_ONCE):
            with self._guard:
                self._file.seek(start)
                piece = self._file.read(BYTES_AT_ONCE)
            yield piece


def is_picture(file: str) -> bool:
    """Is it folder/name, such as photos/1f.jpg?"""
    folder, _, name = file.partition("/")
    return folder in pictures.FOLDERS and pictures.is_name(name)


def base64_of(path: Path) -> str:
    return base64.b64encode(path.read_bytes()).decode("ascii")


def _pictures(data_dir: Path) -> list[str]:
    found = [
        f"{folder}/{path.name}"
        for folder in pictures.FOLDERS
        for path in sorted((data_dir / folder).glob("*"))
        if path.is_file()
    ]
    return [file for file in found if is_picture(file) and not file.endswith(".half")]


class _Sink(io.RawIOBase):
    """What a ZIP is written to, and taken from as it comes."""

    def __init__(self) -> None:
        self._held = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: Any) -> int:
        self._held += data
        return len(data)

    def taken(self) -> Iterator[bytes]:
        """What came since the last time, if anything did."""
        if self._held:
            yield bytes(self._held)
            self._held.clear()


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _csv(rows: Iterable[Iterable[object]]) -> str:
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    return out.getvalue()
