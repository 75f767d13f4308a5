"""Photos of boots, before and after: a row each, the picture itself as a file beside the shop's
file.
"""

from __future__ import annotations

from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Photo


def get(store: Store, photo_id: int) -> Photo | None:
    """One that was not erased."""
    return store.first(Photo, "SELECT * FROM photos WHERE id = ? AND erased_at IS NULL", photo_id)


def of_ticket(store: Store, ticket_id: int) -> list[Photo]:
    """Newest first, erased ones left out."""
    return store.all(
        Photo,
        "SELECT * FROM photos WHERE ticket_id = ? AND erased_at IS NULL ORDER BY id DESC",
        ticket_id,
    )


def of_item(store: Store, item_id: int) -> list[Photo]:
    """As they were taken, erased ones and paper slips left out."""
    sql = (
        "SELECT * FROM photos WHERE item_id = ? AND erased_at IS NULL AND moment <> 'slip'"
        " ORDER BY taken_at, id"
    )
    return store.all(Photo, sql, item_id)


def newest(store: Store, item_id: int) -> Photo | None:
    """The last one of an item itself; a photo of a paper slip is not one."""
    sql = (
        "SELECT * FROM photos WHERE item_id = ? AND erased_at IS NULL AND moment <> 'slip' ORDER BY"
        " id DESC LIMIT 1"
    )
    return store.first(Photo, sql, item_id)


def add(store: Store, act: Act, photo: Photo) -> int:
    """Adds one, inside a write; its id and its time are given here."""
    return store.insert(
        "photos",
        ticket_id=photo.ticket_id,
        item_id=photo.item_id,
        moment=photo.moment,
        round_n=photo.round_n,
        file=photo.file,
        width_px=photo.width_px,
        height_px=photo.height_px,
        bytes=photo.bytes,
        content_hash=photo.content_hash,
        taken_at=photo.taken_at,
        view=photo.view,
        staff_id=act.staff_id,
    )


def erase(store: Store, act: Act, photo_id: int) -> None:
    """The row stays as a count, inside a write; the file is the caller's to remove."""
    store.change("photos", photo_id, erased_at=utc_text(act.at))


def ticket_of_submission(store: Store, submission_id: str) -> int | None:
    """The ticket that a form opened, by the form's submission id; None while it is not saved."""
    result = store.value("SELECT result FROM submissions WHERE id = ?", submission_id)
    return Written.from_text(result).ticket_id if result else None
