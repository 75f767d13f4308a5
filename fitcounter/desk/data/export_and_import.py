"""Taking data out: the whole shop as one JSON file and back again, one customer as JSON or CSV
(GDPR Articles 15 and 20).
"""

from __future__ import annotations

import csv
import io
import json
import os
import secrets
import tempfile
from collections.abc import Iterable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from fitcounter.desk.book.estimate_csv import safe_cell
from fitcounter.desk.common.translation import say
from fitcounter.desk.data import shop_file
from fitcounter.desk.data.whole_shop import HeldFile, WholeShop, base64_of
from fitcounter.desk.shop import Act, Store, Written, open_store
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets
from fitcounter.errors import BadInput, Conflict, NotFound, Unavailable
from fitcounter.store import (
    audit_key,
    customers,
    erasing,
    every_table,
    integrity,
    pictures,
    staff,
)


def export(data_dir: Path, target: Path, now: datetime) -> str:
    """Writes the whole shop to one file for its owner's eyes (mode 0600): .json with pictures, .zip
    with a CSV a table.

    Never over a file that is there. Raises BadInput, NotFound, Conflict, Unavailable.
    """
    if target.suffix not in (".json", ".zip"):
        raise BadInput(
            say(
                "Name a file that ends in .json, which can be put in again, or in .zip, for a"
                " spreadsheet."
            ),
            field="file",
        )
    if not (data_dir / "shop.db").is_file():
        raise NotFound(
            say("There is no shop in that folder yet. Name the one it lies in with --data.")
        )
    shop = WholeShop(data_dir, now)
    _write(target, shop.as_json() if target.suffix == ".json" else shop.as_csv())
    keep = say("It holds names and numbers: keep it as you keep the shop’s own file.")
    return f"{target}\n{_count(shop.rows, len(shop.pictures))}. {keep}"


def take_everything(store: Store, act: Act, kind: str) -> HeldFile:
    """The whole shop as a file; that it went out is noted first.

    kind: json or csv. Raises NoRoom, Unavailable.
    """
    store.once(act, "taken-out", lambda: Written(detail={"kind": kind}))
    data_dir = store.path.parent
    shop = WholeShop(data_dir, act.at)
    return HeldFile(shop.as_json() if kind == "json" else shop.as_csv(), data_dir)


def bring_in(source: Path, data_dir: Path) -> str:
    """Puts such a file into a folder without a shop, a row and a picture at a time.

    Raises NotFound, BadInput, Conflict, NoRoom, Unavailable.
    """
    data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=data_dir) as held:
        aside = Path(held)
        found = shop_file.look(source, aside)
        if any((data_dir / file).exists() for file in found.pictures):
            raise Conflict(
                say("There are pictures in that folder already. Name an empty folder with --data.")
            )
        store = open_store(data_dir / "shop.db")
        try:
            rows = sum(found.rows.values())
            every_table.put_in(store, shop_file.tables(source), found.content_hash, rows)
            audit_key.write(data_dir, integrity.new_key(store), replace=True)
            door = _let_the_owner_in(store)
        finally:
            store.close()
        for file in found.pictures:
            (data_dir / file).parent.mkdir(mode=0o700, exist_ok=True)
            (aside / file).rename(data_dir / file)
    done = say(
        "Put in: {what}, content {hash} as it was written.",
        what=_count(found.rows, len(found.pictures)),
        hash=found.content_hash[:16],
    )
    return f"{done}\n{door}"


def _let_the_owner_in(store: Store) -> str:
    """A passphrase by chance for the first owner, told once: those of before stayed behind."""
    owner = staff.first_owner(store)
    if owner is None:
        return say("Nobody in it is an owner.")
    passphrase = secrets.token_urlsafe(18)
    with store.write_tx():
        store.change("staff", owner.id, passphrase_hash=staff_secrets.hash_secret(passphrase))
    return say(
        "Sign in once as {initials} with {passphrase} and choose your own passphrase; then give"
        " everybody else theirs.",
        initials=owner.initials,
        passphrase=passphrase,
    )


def customer_json(store: Store, customer_id: int) -> bytes:
    """Everything kept of one customer, pictures too. Raises NotFound."""
    rows = _of(store, customer_id)
    data_dir = store.path.parent
    paths = {
        file: pictures.path_of(data_dir, *file.split("/"))
        for file in erasing.files_of(store, customer_id)
    }
    files = {file: base64_of(path) for file, path in paths.items() if path.is_file()}
    return json.dumps({"tables": rows, "files": files}, ensure_ascii=False, indent=1).encode()


def customer_csv(store: Store, customer_id: int) -> bytes:
    """The same in four columns for a spreadsheet: where, which row, what, value; a cell that could
    be a formula gets an apostrophe.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(["where", "row", "what", "value"])
    for table, rows in _of(store, customer_id).items():
        for count, row in enumerate(rows, 1):
            number = row.get("id", count)  # of rows kept by their key: the first, the second
            for name, value in row.items():
                writer.writerow([safe_cell(one) for one in (table, number, name, value)])
    return out.getvalue().encode("utf-8-sig")


def _of(store: Store, customer_id: int) -> dict[str, list[dict[str, Any]]]:
    customers.get(store, customer_id)
    return every_table.of_customer(store, customer_id)


def _write(target: Path, pieces: Iterable[bytes]) -> None:
    try:
        with os.fdopen(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            try:
                file.writelines(pieces)
            except BaseException:  # half a file is none, and would be in the way of the next
                target.unlink()
                raise
    except FileExistsError as error:
        raise Conflict(
            say("{name} is there already. Name another file, or move it away.", name=target.name)
        ) from error
    except OSError as error:
        raise Unavailable(
            say(
                "{name} could not be written: {strerror}. Name another place.",
                name=target.name,
                strerror=error.strerror,
            )
        ) from error


def _count(rows: Mapping[str, int], pictures: int) -> str:
    return say(
        "tickets: {tickets}, rows: {rows}, pictures: {pictures}",
        tickets=rows["tickets"],
        rows=sum(rows.values()),
        pictures=pictures,
    )
