"""A photo as it is sent, and the pictures that are kept."""

from __future__ import annotations

import io
from pathlib import Path

from support.cast import Counter
from support.counter_forms import fresh
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from fitcounter.store.database import Store


def send(
    who: Counter, where: str, content: bytes, name: str = "boot.jpg", **more: object
) -> TestResponse:
    who.get("/") if who.initials else who.get("/sign-in")
    form = {"csrf_token": who.token(), "submission_id": fresh(), "moment": "before", **more}
    boundary, body = encode_multipart({**form, "photo": FileStorage(io.BytesIO(content), name)})
    return who.client.post(
        where, data=body, content_type=f"multipart/form-data; boundary={boundary}"
    )


def kept(store: Store, folder: Path) -> list[bytes]:
    """The pictures on the disk, each of which must have its row."""
    rows = store.rows("SELECT file FROM photos WHERE erased_at IS NULL ORDER BY id")
    assert sorted(row["file"] for row in rows) == sorted(
        path.name for path in (folder / "photos").glob("*")
    )
    return [(folder / "photos" / row["file"]).read_bytes() for row in rows]
