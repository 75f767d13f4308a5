"""Sentences on pages, and those of the scripts, which a page brings along in its language."""

from __future__ import annotations

import json
from functools import cache, lru_cache
from itertools import chain
from pathlib import Path
from typing import Any, Literal

from babel.messages.extract import extract
from markupsafe import Markup, escape

from fitcounter.desk.common.translation import Speech, spoken, told
from fitcounter.errors import Sentence
from fitcounter.settings import STATIC

MOST_KEPT = 4096
KEYWORDS: dict[str, tuple[int, ...] | None] = {"_": None}


def say_on_page(sentence: str, /, **values: Any) -> Markup:
    """A sentence of ours with its {values} put in; those that are no markup are escaped."""
    if isinstance(sentence, Sentence):
        return _safe(told(sentence))
    said = spoken().known(sentence)
    return _put_in(_safe(said), values) if values else _alone(said)


def say_n_on_page(one: str, many: str, count: int, /, **values: Any) -> Markup:
    """The sentence for `count` things; {count} is put in with the other {values}."""
    sentence = spoken().form(one, many, count)
    return _put_in(_safe(sentence), {"count": count, **values})


def inline(tag: Literal["span", "s", "code"], text: object, kind: str = "") -> Markup:
    """A value of a sentence that is set apart on the page; kind: its class."""
    of_class = f' class="{escape(kind)}"' if kind else ""
    return Markup(f"<{tag}{of_class}>{escape(text)}</{tag}>")


def _put_in(sentence: Markup, values: dict[str, Any]) -> Markup:
    """As Markup.format does it, which takes a sentence apart sign by sign each time it is said."""
    shown = {
        name: escape(told(one) if isinstance(one, Sentence) else one)
        for name, one in values.items()
    }
    return Markup(str.format(sentence, **shown))


@lru_cache(maxsize=MOST_KEPT)
def _alone(sentence: str) -> Markup:
    """A sentence that puts nothing in, which most do not."""
    return _put_in(_safe(sentence), {})


@lru_cache(maxsize=MOST_KEPT)
def _safe(sentence: str) -> Markup:
    """A sentence of the catalogue for text and for an attribute in double quotes, as pages set
    them; an apostrophe stays one.
    """
    return Markup(
        sentence.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace('"', "&#34;")
    )


def decimals(text: str) -> str:
    """A figure of a drawing with the decimal mark of the language spoken now; a message in it."""
    return told(text) if isinstance(text, Sentence) else spoken().decimals(text)


def script_words() -> str:
    """JSON: each English sentence and what is said for it; "" where the page is in English."""
    return _words(spoken())


@cache
def script_sentences() -> tuple[str, ...]:
    """Every sentence that the scripts say, in the order they stand."""
    found = chain.from_iterable(map(_of_file, sorted((Path(STATIC) / "js").glob("*.js"))))
    return tuple(dict.fromkeys(found))


@cache
def _words(words: Speech) -> str:
    if words.code == "en":
        return ""
    said = {sentence: words.known(sentence) for sentence in script_sentences()}
    return json.dumps(said, ensure_ascii=False, separators=(",", ":"))


def _of_file(path: Path) -> list[str]:
    with path.open("rb") as file:
        return [str(text) for _, text, _, _ in extract("javascript", file, KEYWORDS)]
