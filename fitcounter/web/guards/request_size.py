"""How large a request may be.

A form is 64 KB; a view that takes photos says so. The framework's own limits guard multipart alone.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from flask import Flask, abort, current_app, request, session
from werkzeug.exceptions import HTTPException, SecurityError
from werkzeug.http import parse_options_header
from werkzeug.sansio.multipart import Data, Epilogue, Field, File, MultipartDecoder, NeedData

from fitcounter.desk.common.translation import say
from fitcounter.desk.front_desk import photos
from fitcounter.errors import BadInput

FORM_BYTES = 64 * 1024
MOST_FIELDS = 600
MOST_PATH = 2000
LOOKED_AT = 1024 * 1024  # of a form that is too large, for what was typed in it
LONGEST_SHOWN = 4000
FORM_TYPES = ("", "application/x-www-form-urlencoded", "multipart/form-data")
# A picture, and what a form around it weighs.
PHOTO_BYTES = photos.MOST_BYTES + 16 * 1024
View = TypeVar("View", bound=Callable[..., Any])


def _signed_in() -> bool:
    return bool(session.get("token"))


def takes_bytes(most: int, whose: Callable[[], bool] = _signed_in) -> Callable[[View], View]:
    """Marks a view that takes more than a form from those of whom `whose` is true."""

    def mark(view: View) -> View:
        view.most_bytes = most  # type: ignore[attr-defined]
        view.takes_from = whose  # type: ignore[attr-defined]
        return view

    return mark


def wire(app: Flask) -> None:
    """Before anything of a form is read."""
    app.before_request(_measure)


def _measure() -> None:
    # looked up once: each look at what is asked just now goes through a context
    asked = request._get_current_object()  # type: ignore[attr-defined]
    if isinstance(asked.routing_exception, SecurityError):
        # another host than ours: nothing more is looked at, and no page can be made
        raise asked.routing_exception
    if len(asked.full_path) > MOST_PATH:
        abort(414)
    if asked.endpoint == "static":
        return  # the same for everybody: it asks for no session, so that a phone may keep it
    view = current_app.view_functions.get(asked.endpoint or "")
    takes_from = getattr(view, "takes_from", None)
    # a stranger's photo is not even read
    asked.max_content_length = (
        view.most_bytes  # type: ignore[union-attr]
        if takes_from and takes_from()
        else FORM_BYTES
    )
    if asked.method != "POST":
        return
    if (
        asked.mimetype not in FORM_TYPES
        or asked.headers.get("Content-Encoding", "identity") != "identity"
    ):
        abort(415)
    if sum(map(len, asked.form.listvalues())) > MOST_FIELDS:
        abort(413)


def sent_photo() -> bytes:
    """The picture that came with the form.

    act() covers the form's own fields, so the picture is not part of its hash.
    """
    sent = request.files.get("photo")
    content = sent.read(photos.MOST_BYTES + 1) if sent else b""
    if not content:
        raise BadInput(say("Take or pick a photo, then send it."), field="photo")
    return content


def salvaged() -> list[tuple[str, str]]:
    """What was typed in a form that is too large: its fields, as far as they are of a length that
    somebody types. Nothing of a stranger's is read for it.
    """
    if not session.get("token"):
        return []
    try:
        pairs = _pairs()
    except (HTTPException, ValueError, OSError):
        return []
    return [(key, value) for key, value in pairs[:MOST_FIELDS] if len(value) <= LONGEST_SHOWN]


def _pairs() -> list[tuple[str, str]]:
    kind, options = parse_options_header(request.content_type)
    if kind == "multipart/form-data" and (request.content_length or 0) > FORM_BYTES:
        return _fields_before_files(options.get("boundary", ""))
    request.max_content_length = LOOKED_AT
    return list(request.form.items(multi=True))


def _fields_before_files(boundary: str) -> list[tuple[str, str]]:
    """The text fields in the first part of a body; what stands after a large file is out of
    reach.
    """
    request.max_content_length = request.content_length  # only its beginning is read
    decoder = MultipartDecoder(boundary.encode("latin-1"), max_form_memory_size=LOOKED_AT)
    decoder.receive_data(request.stream.read(LOOKED_AT))
    pairs: list[tuple[str, str]] = []
    name: str | None = None
    text = b""
    while not isinstance(event := decoder.next_event(), NeedData | Epilogue):
        if isinstance(event, Field | File):
            name, text = (event.name if isinstance(event, Field) else None), b""
        elif isinstance(event, Data) and name is not None:
            text += event.data
            if not event.more_data:
                pairs.append((name, text.decode("utf-8", "replace")))
    return pairs
