"""Taking data out: the whole shop as one JSON file and back again, one customer as JSON or CSV (GDPR Articles 15 and 20)."""

from __future__ import annotations

import base64
import binascii
import csv
import io
import json
import os
import re
from datetime import datetime
from pathlib import Path
from typing import Any

from fitcounter.desk.book import safe_cell
from fitcounter.desk.shop import Store, open_store
from fitcounter.errors import BadInput, Conflict, NotFound, Unavailable
from fitcounter.store import customers, erasing, whole
from fitcounter.store.database import utc_text

KIND = "a whole shop of fitcounter"
FOLDERS = ("photos", "signatures")
_FILE = re.compile(r"(photos|signatures)/[A-Za-z0-9_-][A-Za-z0-9._-]{0,99}")
NOT_OURS = "That is not a file of `fitcounter export`. Name one that it wrote."


def export(data_dir: Path, target: Path, now: datetime) -> str:
    """Writes the whole shop, pictures too, to one file for its owner's eyes (mode 0600). Never over a file that is there."""
    if not (data_dir / "shop.db").is_file():
        raise NotFound("There is no shop in that folder yet. Name the one it lies in with --data.")
    store = open_store(data_dir / "shop.db")
    try:
        with store.write_tx():  # one moment: nobody writes between the tables
            told = {"kind": KIND, "made_at": utc_text(now), "content_hash": whole.business_hash(store), "tables": whole.take_out(store)}
    finally:
        store.close()
    told["files"] = {file: _base64(data_dir / file) for file in _files(data_dir)}
    _write(target, json.dumps(told, ensure_ascii=False, allow_nan=False))
    return f"{target}\n{_count(told)}. It holds names, numbers and hashed passphrases: keep it as you keep the shop's own file."


def bring_in(source: Path, data_dir: Path) -> str:
    """Puts such a file into a folder without a shop. Raises NotFound, BadInput, Conflict."""
    told = _read(source)
    files = {file: _content(file, text) for file, text in told["files"].items()}
    data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    if any((data_dir / file).exists() for file in files):
        raise Conflict("There are pictures in that folder already. Name an empty folder with --data.")
    store = open_store(data_dir / "shop.db")
    try:
        whole.put_in(store, told["tables"], str(told["content_hash"]))
    finally:
        store.close()
    for file, content in files.items():
        (data_dir / file).parent.mkdir(mode=0o700, exist_ok=True)
        (data_dir / file).touch(mode=0o600)
        (data_dir / file).write_bytes(content)
    return f"Put in: {_count(told)}, content {str(told['content_hash'])[:16]} as it was written."


def customer_json(store: Store, customer_id: int) -> bytes:
    """Everything kept of one customer, pictures too. Raises NotFound."""
    rows = _of(store, customer_id)
    data_dir = store.path.parent
    files = {file: _base64(data_dir / file) for file in erasing.files_of(store, customer_id) if (data_dir / file).is_file()}
    return json.dumps({"tables": rows, "files": files}, ensure_ascii=False, indent=1).encode()


def customer_csv(store: Store, customer_id: int) -> bytes:
    """The same in four columns for a spreadsheet: where, which row, what, value; a cell that could be a formula gets an apostrophe."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(["where", "row", "what", "value"])
    for table, rows in _of(store, customer_id).items():
        for row in rows:
            for name, value in row.items():
                writer.writerow([safe_cell(one) for one in (table, row["id"], name, value)])
    return out.getvalue().encode("utf-8-sig")


def _of(store: Store, customer_id: int) -> dict[str, list[dict[str, Any]]]:
    customers.get(store, customer_id)
    return whole.of_customer(store, customer_id)


def _files(data_dir: Path) -> list[str]:
    found = [f"{folder}/{path.name}" for folder in FOLDERS for path in sorted((data_dir / folder).glob("*")) if path.is_file()]
    return [file for file in found if _FILE.fullmatch(file) and not file.endswith(".half")]


def _read(source: Path) -> dict[str, Any]:
    try:
        told = json.loads(source.read_bytes())
    except OSError as error:
        raise NotFound(f"{source.name} cannot be read: {error.strerror}. Name a file of `fitcounter export`.") from error
    except (ValueError, RecursionError) as error:
        raise BadInput(NOT_OURS, field="file") from error
    if not isinstance(told, dict) or told.get("kind") != KIND or not isinstance(told.get("content_hash"), str):
        raise BadInput(NOT_OURS, field="file")
    if not isinstance(told.get("tables"), dict) or not isinstance(told.get("files"), dict):
        raise BadInput(NOT_OURS, field="file")
    return told


def _content(file: str, text: object) -> bytes:
    """A picture of the file; a name that would lead elsewhere is refused."""
    if not _FILE.fullmatch(file) or not isinstance(text, str):
        raise BadInput(NOT_OURS, field="file")
    try:
        return base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError) as error:
        raise BadInput(NOT_OURS, field="file") from error


def _base64(path: Path) -> str:
    return base64.b64encode(path.read_bytes()).decode("ascii")


def _write(target: Path, text: str) -> None:
    try:
        with os.fdopen(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError as error:
        raise Conflict(f"{target.name} is there already. Name another file, or move it away.") from error
    except OSError as error:
        raise Unavailable(f"{target.name} could not be written: {error.strerror}. Name another place.") from error


def _count(told: dict[str, Any]) -> str:
    rows = sum(len(table["rows"]) for table in told["tables"].values())
    return f"{len(told['tables']['tickets']['rows'])} tickets, {rows} rows, {len(told['files'])} pictures"
