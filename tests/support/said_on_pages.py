"""What a person reads of a page, and the sentences of another language among it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from html.parser import HTMLParser
from io import BytesIO

from pypdf import PdfReader
from support import catalogue
from support.catalogue import SPOKEN_ATTRIBUTES

from fitcounter.desk.common import translation

_HOLE = re.compile(r"{\w+}")
_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source"}
_UNSEEN = {"code", "script", "style"}
LEAST_LETTERS = 10  # of a piece between two values, or it is found in other words too


class _Texts(HTMLParser):
    """Texts and what is read aloud; not what stands in another language on purpose."""

    def __init__(self, language: str) -> None:
        super().__init__()
        self.texts: list[str] = []
        self._language = language
        self._open: list[bool] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        known = dict(attrs)
        other = (known.get("lang") or self._language)[:2] != self._language
        unseen = tag in _UNSEEN or other
        if not unseen and not any(self._open):
            self.texts += [text for name, text in attrs if name in SPOKEN_ATTRIBUTES and text]
        if tag not in _VOID:
            self._open.append(unseen)

    def handle_endtag(self, tag: str) -> None:
        if tag not in _VOID and self._open:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        if not any(self._open):
            self.texts.append(data)


def texts_of(page: str, language: str) -> list[str]:
    """Each text of a page with single blanks. language: two letters, of the page."""
    read = _Texts(language)
    read.feed(page)
    joined = (" ".join(text.split()) for text in read.texts)
    return [text for text in joined if text]


@dataclass(frozen=True, slots=True)
class Foreign:
    """The sentences of a language that are said in another one where it counts.

    whole: those that stand alone; pieces: the longest piece without a value of each other one.
    """

    whole: frozenset[str]
    pieces: Mapping[str, str]

    def among(self, texts: Iterable[str]) -> Iterator[str]:
        """Each sentence that was found, with the text it was found in."""
        texts = list(texts)
        yield from (text for text in texts if text in self.whole)
        others = [text for text in texts if text not in self.whole]
        page = "\0".join(others)  # one search for each piece, not one in each text
        for piece, sentence in self.pieces.items():
            if piece in page:
                yield from (f"{sentence} | {text[:120]}" for text in others if piece in text)


def foreign(said: Mapping[str, str], own: Iterable[str]) -> Foreign:
    """The sentences to look for. said: sentence and what stands for it in the page's language; own:
    texts that may stand on a page as they are, because somebody typed them.
    """
    own = set(own)
    fine_alone = {*said.values(), *own}
    fine = "\n".join(fine_alone)
    whole, pieces = set(), {}
    for sentence, other in said.items():
        if sentence == other or sentence in fine_alone:
            continue
        if not _HOLE.search(sentence):
            whole.add(sentence)
        longest = max(_HOLE.split(sentence), key=len).strip()
        if len(longest) >= LEAST_LETTERS and " " in longest and longest not in fine:
            pieces[longest] = sentence
    return Foreign(frozenset(whole), pieces)


def said_of_the_other(language: str) -> dict[str, str]:
    """Each sentence of the other language, and what stands for it in this one."""
    spanish = translation.speech("es")
    said = {}
    for one, many in catalogue.every_sentence().items():
        said[one] = spanish.form(one, many, 1) if many else spanish.known(one)
        if many:
            said[many] = spanish.form(one, many, 2)
    return said if language == "es" else {other: one for one, other in said.items()}


def texts_of_paper(pdf: bytes) -> list[str]:
    """The lines of a paper, and all of it in one."""
    lines = [
        " ".join(line.split())
        for page in PdfReader(BytesIO(pdf)).pages
        for line in page.extract_text().splitlines()
    ]
    return [*lines, " ".join(lines)]
