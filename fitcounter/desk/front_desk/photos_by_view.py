"""Then and now: the photos of one item by the view they were taken from, as time went."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.desk.common.translation import say
from fitcounter.desk.front_desk.photos import MOMENTS, VIEWS
from fitcounter.store import photos
from fitcounter.store.database import Store
from fitcounter.store.records import Photo


class Picture(NamedTuple):
    """One photo: "before", "after round 2". taken_at: UTC text."""

    photo_id: int
    words: str
    taken_at: str


class View(NamedTuple):
    """One view. pictures: the first one first; of the first, every round, and the last where there
    are several of a moment the last.
    """

    key: str
    words: str
    pictures: tuple[Picture, ...]


def views(store: Store, item_id: int) -> tuple[View, ...]:
    """Every view that can be taken, those without a photo too; photos of no view come last."""
    return by_view(photos.of_item(store, item_id))


def by_view(taken: Sequence[Photo]) -> tuple[View, ...]:
    """The same of one item's photos, as they were taken."""
    found = [
        View(key, say(words), _pictures([one for one in taken if one.view == key]))
        for key, words in VIEWS.items()
    ]
    return (*found[1:], found[0])


def _pictures(taken: list[Photo]) -> tuple[Picture, ...]:
    latest = {(one.moment, one.round_n): one for one in taken}
    kept = {taken[0].id: taken[0]} if taken else {}
    kept |= {one.id: one for one in latest.values()}
    return tuple(
        Picture(one.id, _words(one), one.taken_at)
        for one in sorted(kept.values(), key=lambda one: (one.taken_at, one.id))
    )


def _words(photo: Photo) -> str:
    if photo.moment == "round" and photo.round_n is not None:
        return say("round {number}", number=photo.round_n)
    return say(MOMENTS[photo.moment])
