"""The colours of words against what they stand on, from the style sheet itself: 7 to 1 (WCAG 2.2,
1.4.6), on the customer's page and everywhere else, in both themes.
"""

from __future__ import annotations

import re

import pytest
from support.paths import CHECKOUT

SHEET = (CHECKOUT / "static" / "css" / "base.css").read_text(encoding="utf-8")
SAVED = (CHECKOUT / "templates" / "papers" / "saved.css").read_text(encoding="utf-8")
ENOUGH = 7.0
PAIRS = [(words, ground) for words in ("ink", "soft", "ox-text") for ground in ("paper", "blank")]


def _themes(sheet: str) -> dict[str, dict[str, str]]:
    """The colours of each theme by name; the dark one takes over what it does not say."""
    blocks = [dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", one)) for one in sheet.split(":root")]
    light, dark = (block for block in blocks if "paper" in block)
    return {"light": light, "dark": {**light, **dark}}


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (
        one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize(("words", "ground"), [*PAIRS, ("ox-ink", "ox")])
def test_words_stand_out_from_what_they_stand_on(words: str, ground: str, theme: str) -> None:
    colours = _themes(SHEET)[theme]
    assert contrast(colours[words], colours[ground]) >= ENOUGH


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("words", ["ink", "soft"])
def test_so_do_they_on_the_page_that_is_saved(words: str, theme: str) -> None:
    colours = _themes(SAVED)[theme]
    assert contrast(colours[words], colours["paper"]) >= ENOUGH


def test_black_on_white_has_the_most_there_is() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
