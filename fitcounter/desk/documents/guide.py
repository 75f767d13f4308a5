"""The owner's guide: its chapters, its pictures, and all of it as one PDF."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from fitcounter.desk.common.translation import marked, say, speech_at, spoken
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.shop import Shop
from fitcounter.papers import guide

PICTURES_DIR = Path(__file__).resolve().parents[3] / "seed_scenario" / "pictures"
CHAPTERS = (
    ("first-day", marked("The first day")),
    ("a-job", marked("A job, from the door to the guarantee")),
    ("messages", marked("Messages to customers")),
    ("phones", marked("Phones and certificates")),
    ("copies", marked("Copies and a second machine")),
    ("trouble", marked("What to do when …")),
)
PICTURES = (
    "shop",
    "new-job",
    "measure",
    "can-it-be-done",
    "bench",
    "item",
    "pickup",
    "customer-page",
)


def chapters() -> list[tuple[str, str]]:
    """The name in the address and the title of each chapter, in the language spoken now."""
    return [(name, say(title)) for name, title in CHAPTERS]


def chapter(name: str) -> tuple[str, tuple[str, str] | None]:
    """The title of a chapter by its name in the address, and the chapter that follows it.

    Raises KeyError for a name that is no chapter's.
    """
    following = {here[0]: after for here, after in pairwise(chapters())}
    return dict(chapters())[name], following.get(name)


def picture(name: str) -> bytes:
    """A picture of the guide as WebP, by its name in PICTURES."""
    return (PICTURES_DIR / f"{name}.webp").read_bytes()


def guide_pdf(shop: Shop) -> bytes:
    """The whole guide to print. Raises Unavailable where PDFs cannot be made."""
    pictures = {name: picture(name) for name in PICTURES}
    words = speech_at(shop, spoken().code)
    return guide.guide(
        head(shop), chapters(), pictures, paper_sizes.of_pages(shop), words.say, words.locale
    )
