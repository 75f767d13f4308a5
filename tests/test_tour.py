"""The pictures of the README's tour: all there, light, and told in words."""

from __future__ import annotations

import re

from PIL import Image
from support.paths import CHECKOUT

README = (CHECKOUT / "README.md").read_text(encoding="utf-8")
PLACES = (
    "Today",
    "New job",
    "Measure",
    "Can it be done?",
    "Item",
    "Bench",
    "Pickup",
    "Customer page",
    "Book",
    "Shop",
)


def test_every_place_has_its_picture_on_a_phone_told_in_words():
    """In the order of the places, each as tall as a phone; together light enough to stand in the
    checkout.
    """
    shown = re.findall(
        r'<img src="(seed_scenario/pictures/[a-z-]+\.webp)" width="190" alt="([^"]{60,})">', README
    )
    assert len(shown) == len(PLACES)
    for place, (path, words) in zip(PLACES, shown, strict=True):
        assert words.startswith(place)
        with Image.open(CHECKOUT / path) as picture:
            assert picture.width * 780 == picture.height * 360, path
    assert sum((CHECKOUT / path).stat().st_size for path, _ in shown) < 600_000
