"""The figures of a boot that a page says, each under its name: short by how much, and where.

A figure that stands alone carries its name in the page (`data-figure`); one in a sentence is known
by the sentence. Lengths are read as inches, whatever way their fraction is set.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from html import unescape
from unicodedata import normalize

_LENGTH = r"(?:\d+ ?)?(?:\d+/\d+)?"
_SENTENCES = tuple(
    re.compile(one.replace("SHORT", f"(?P<short>{_LENGTH})").replace("AT", f"(?P<at>{_LENGTH})"))
    for one in (
        r"SHORT in short at AT\b",
        r"tightest place is at AT in, short by SHORT in",
        r"short by SHORT in at AT in, the tightest place",
        r"nearly closes: SHORT in at AT in",
    )
)
_NAMED = re.compile(r'<(\w+)[^>]*data-figure="(\w+)"[^>]*>(.*?)</\1>', re.DOTALL)


def figures(page: str) -> Iterator[tuple[str, Fraction]]:
    """(name, inches) of everything the page says of one boot: "short" and "tightest"."""
    for _, name, inner in _NAMED.findall(page):
        yield name, inches(_text(inner))
    text = _text(page)
    for sentence in _SENTENCES:
        for found in sentence.finditer(text):
            yield "short", inches(found["short"])
            yield "tightest", inches(found["at"])


def inches(text: str) -> Fraction:
    """ "12 5/8" in inches."""
    parts = re.findall(r"\d+(?:/\d+)?", text)
    assert parts, text
    return sum(map(Fraction, parts), Fraction(0))


def _text(html: str) -> str:
    """What is read, every fraction as "5/8" after a space."""
    plain = unescape(re.sub(r'<span class="vh">.*?</span>|<(title|desc)[ >].*?</\1>', _kept, html))
    plain = re.sub(r"<[^>]+>", " ", re.sub(r"</?(?:p|t[dhr]|text|desc|li|h\d)\b", " | <", plain))
    plain = re.sub(r"[¼½¾⅛⅜⅝⅞]", lambda one: " " + normalize("NFKC", one[0]), plain)
    plain = re.sub(r"[\u2009\u202f\u200a\u00a0]", " ", plain.replace("\u2044", "/"))
    return re.sub(r"\s+", " ", re.sub(r"\s*/\s*", "/", plain))


def _kept(found: re.Match[str]) -> str:
    """The words for whoever cannot see a drawing are read; a hidden word within a cell is not."""
    return found[0] if found[1] else ""
