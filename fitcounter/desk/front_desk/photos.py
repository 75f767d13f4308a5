"""Photos taken with a phone: read by their content and not by their name, written anew pixel by
pixel, kept beside the shop's file.

OWASP ASVS 5.0 5.2 and the OWASP file upload cheat sheet (image rewriting): nothing of the file that
was sent but its pixels (see papers.photo), a name of chance outside every served folder.
"""

from __future__ import annotations

import hashlib
import secrets
from contextlib import suppress
from datetime import datetime
from typing import NamedTuple

from fitcounter.desk.common import files
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.shop import Store
from fitcounter.errors import BadInput, NotFound
from fitcounter.papers import photo
from fitcounter.papers.photo_limits import CleanPhoto, PhotoFault
from fitcounter.store import items, photos, pictures, rounds, tickets
from fitcounter.store.database import Act, Written, utc_text
from fitcounter.store.records import Photo

MOST_BYTES = 12 * 1024 * 1024
MOST_A_TICKET = 12
MOMENTS = {
    "before": marked("before"),
    "round": marked("between rounds"),
    "after": marked("after"),
    "scan": marked("scanned"),
    "slip": marked("paper slip"),
}
# From where a boot is looked at.
VIEWS = {
    "": marked("any view"),
    "front": marked("front"),
    "outside": marked("outer side"),
    "inside": marked("inner side"),
    "back": marked("back"),
}
FAULTS = {
    PhotoFault.UNREADABLE: marked(
        "This photo cannot be read. Take it again, or send a JPEG, PNG or WebP."
    ),
    PhotoFault.TOO_LARGE: marked(
        "This photo is too large (at most 12 MB, 40 megapixels). Send a smaller one."
    ),
}
FULL = marked("This ticket already has 12 photos. Delete one first.")
GONE = marked("This photo was deleted, or never existed.")


class Shot(NamedTuple):
    """A photo as it was sent. moment: of MOMENTS; view: of VIEWS."""

    moment: str
    sent: bytes
    taken_at: datetime
    view: str = ""


def clean(sent: bytes) -> CleanPhoto:
    """What is kept of a photo that was sent. Raises BadInput, Unavailable."""
    cleaned = PhotoFault.TOO_LARGE if len(sent) > MOST_BYTES else photo.clean(sent)
    if isinstance(cleaned, PhotoFault):
        raise BadInput(say(FAULTS[cleaned]), field="photo")
    return cleaned


def keep(
    store: Store,
    act: Act,
    ticket_id: int,
    item_id: int | None,
    shot: Shot,
) -> Written:
    """Keeps one photo of a ticket or of one of its items. The file first, then the row, so that no
    row lacks its file.

    Raises BadInput (no picture, too large, twelve already), NotFound, NoRoom, Unavailable.
    """
    moment = shot.moment
    if shot.view not in VIEWS:
        raise BadInput(say("Pick from where the photo was taken."), field="view")
    if moment not in MOMENTS:
        words = say("Pick when the photo was taken: before, between rounds, or after.")
        raise BadInput(words, field="moment")
    tickets.get(store, ticket_id)
    turns = rounds.of_item(store, item_id) if item_id is not None else []
    picture = clean(shot.sent)
    name = f"{secrets.token_hex(16)}.jpg"
    path = pictures.path_of(store.path.parent, "photos", name)

    def write() -> Written:
        if len(photos.of_ticket(store, ticket_id)) >= MOST_A_TICKET:
            raise BadInput(say(FULL), field="photo")
        files.put(path, picture.content)
        row = Photo(
            0,
            ticket_id,
            item_id,
            moment,
            turns[-1].n if turns and moment == "round" else None,
            name,
            picture.width_px,
            picture.height_px,
            len(picture.content),
            hashlib.sha256(picture.content).hexdigest(),
            utc_text(shot.taken_at),
            None,
            None,
            shot.view,
        )
        photo_id = photos.add(store, act, row)
        return Written(ticket_id, item_id, photo_id, detail={"photo": photo_id, "moment": moment})

    with files.only_with(path):
        return store.once(act, "photo-kept", write)


def keep_of_item(store: Store, act: Act, item_id: int, shot: Shot) -> Written:
    """The same for an item; raises NotFound for an item that is not there."""
    return keep(store, act, items.get(store, item_id).ticket_id, item_id, shot)


def ticket_of_form(store: Store, submission_id: str) -> int | None:
    """The ticket that New job opened with this submission id; None while it is not saved yet."""
    return photos.ticket_of_submission(store, submission_id)


def show(store: Store, photo_id: int) -> bytes:
    """The picture. Raises NotFound."""
    row = photos.get(store, photo_id)
    if row is not None:
        with suppress(FileNotFoundError):
            return pictures.path_of(store.path.parent, "photos", row.file).read_bytes()
    raise NotFound(say(GONE))


def newest(store: Store, item_id: int) -> Photo | None:
    return photos.newest(store, item_id)


def of_ticket(store: Store, ticket_id: int) -> list[Photo]:
    return photos.of_ticket(store, ticket_id)


def erase(store: Store, act: Act, photo_id: int) -> Written:
    """Takes a photo away for good: first the row, then the file, which goes at night if it stayed.

    Raises NotFound.
    """
    row = photos.get(store, photo_id)
    if row is None:
        raise NotFound(say(GONE))

    def write() -> Written:
        photos.erase(store, act, photo_id)
        return Written(row.ticket_id, row.item_id, photo_id, detail={"photo": photo_id})

    done = store.once(act, "photo-erased", write)
    with suppress(OSError):  # it is swept every night as well
        pictures.remove(store.path.parent, [f"photos/{row.file}"])
    return done
