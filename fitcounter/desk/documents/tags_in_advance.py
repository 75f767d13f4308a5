"""Numbered tags printed in advance, which hang ready and belong to nobody yet."""

from __future__ import annotations

from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.papers import tag
from fitcounter.papers.records import Paper, TagLabel, TagSheet
from fitcounter.store import tags
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Tag

MOST_TAGS = 200


# A set hangs together: left, right, and one without a side for the bag or the belt.
SET = ("left", "right", None)


def make_tags(store: Store, act: Act, sets: int) -> Written:
    """New numbered tags that belong to nobody yet: sets of three with one number.

    sets: 1–66. Raises BadInput.
    """
    if not 1 <= sets <= MOST_TAGS // len(SET):
        raise BadInput(
            say("Type how many sets, from 1 to {most}.", most=MOST_TAGS // len(SET)),
            typed=str(sets),
            field="sets",
        )

    def write() -> Written:
        for _ in range(sets):
            number = tags.free_number(store)
            for side in SET:
                tags.make(store, act, number, side)
        return Written(row_id=sets, detail={"sets": sets})

    return store.once(act, "tags-made", write)


def free_tags(store: Store) -> list[Tag]:
    """Tags that hang ready, by number."""
    return tags.free(store)


def free_tags_pdf(store: Store, shop: Shop, base_url: str, size: str) -> bytes:
    """Every tag that hangs ready.

    size: label, a4 or letter. Raises BadInput when there is none, Unavailable without PDFs.
    """
    free = free_tags(store)
    if not free:
        raise BadInput(say("No pre-printed tags are left. Make some first."), field="sets")
    sizes: dict[str, Paper] = {"a4": "a4", "letter": "letter"}
    labels = tuple(
        TagLabel(
            str(one.number or ""),
            one.code,
            f"{base_url}/T/{one.code}".upper(),
            one.side or "",  # type: ignore[arg-type]
            "free",
        )
        for one in free
    )
    sheet = TagSheet(head(shop), labels, sizes.get(size, "label"))
    return tag.tags(sheet, spoken().say, spoken().locale)
