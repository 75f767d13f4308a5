"""Photos taken with a phone: read by their content and not by their name, written anew pixel by
pixel, kept beside the shop's file.

OWASP ASVS 5.0 5.2 and the OWASP file upload cheat sheet (image rewriting): a short list of
decoders, limits on bytes and pixels before anything is decoded, nothing of the file that was sent
but its pixels, a name of chance outside every served folder.
"""

from __future__ import annotations

import hashlib
import secrets
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any

from fitcounter.desk.common import files
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.shop import Store
from fitcounter.errors import BadInput, NotFound
from fitcounter.store import items, photos, pictures, rounds, tickets
from fitcounter.store.database import Act, Written, utc_text
from fitcounter.store.records import Photo

MOST_BYTES = 12 * 1024 * 1024
MOST_PIXELS = 40_000_000
MOST_A_TICKET = 12
LONGEST_SIDE_PX = 1600
QUALITY = 82
READ = ("JPEG", "PNG", "WEBP")
MOMENTS = {
    "before": marked("before"),
    "round": marked("between rounds"),
    "after": marked("after"),
    "scan": marked("scanned"),
    "slip": marked("paper slip"),
}
UNREADABLE = marked("This photo cannot be read. Take it again, or send a JPEG, PNG or WebP.")
TOO_LARGE = marked("This photo is too large (at most 12 MB, 40 megapixels). Send a smaller one.")
FULL = marked("This ticket already has 12 photos. Delete one first.")
GONE = marked("This photo was deleted, or never existed.")


@dataclass(frozen=True, slots=True)
class Picture:
    """A clean JPEG."""

    content: bytes
    width_px: int
    height_px: int


def clean(sent: bytes) -> Picture:
    """The pixels of what was sent as a JPEG of at most 1600 px, upright, with nothing else in it.

    Raises BadInput.
    """
    from PIL import Image, ImageFile, ImageOps  # loaded only when a photo comes

    if len(sent) > MOST_BYTES:
        raise BadInput(say(TOO_LARGE), field="photo")
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    ImageFile.LOAD_TRUNCATED_IMAGES = (
        False  # the library that sets the PDFs lets half pictures through, for the whole process
    )
    try:
        with Image.open(BytesIO(sent), formats=READ) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise BadInput(say(TOO_LARGE), field="photo")
            opened.draft(
                "RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX)
            )  # a JPEG is decoded no larger than it will be kept
            picture = ImageOps.exif_transpose(opened)
            picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            return _written(Image, picture)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise BadInput(say(TOO_LARGE), field="photo") from None
    except BadInput:
        raise
    except (
        Exception
    ) as error:  # a decoder that is fed a hostile file may raise anything; the program goes on
        raise BadInput(say(UNREADABLE), field="photo") from error


def _written(image: Any, picture: Any) -> Picture:
    """Pixels alone on white: no Exif, comment, profile, or second frame comes along."""
    ground = image.new("RGB", picture.size, "white")
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        seen = picture.convert("RGBA")
        ground.paste(seen, mask=seen.getchannel("A"))
    else:
        ground.paste(picture.convert("RGB"))
    out = BytesIO()
    ground.save(out, "JPEG", quality=QUALITY, optimize=True)
    return Picture(out.getvalue(), ground.width, ground.height)


def keep(
    store: Store,
    act: Act,
    ticket_id: int,
    item_id: int | None,
    moment: str,
    sent: bytes,
    taken_at: datetime,
) -> Written:
    """Keeps one photo of a ticket or of one of its items. The file first, then the row, so that no
    row lacks its file.

    Raises BadInput (no picture, too large, twelve already), NotFound, NoRoom, Unavailable.
    """
    if moment not in MOMENTS:
        words = say("Pick when the photo was taken: before, between rounds, or after.")
        raise BadInput(words, field="moment")
    tickets.get(store, ticket_id)
    turns = rounds.of_item(store, item_id) if item_id is not None else []
    picture = clean(sent)
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
            utc_text(taken_at),
            None,
            None,
        )
        photo_id = photos.add(store, act, row)
        return Written(ticket_id, item_id, photo_id, detail={"photo": photo_id, "moment": moment})

    with files.only_with(path):
        return store.once(act, "photo-kept", write)


def keep_of_item(
    store: Store, act: Act, item_id: int, moment: str, sent: bytes, taken_at: datetime
) -> Written:
    """The same for an item; raises NotFound for an item that is not there."""
    return keep(store, act, items.get(store, item_id).ticket_id, item_id, moment, sent, taken_at)


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
