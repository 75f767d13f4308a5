"""The sentences of the program as Babel finds them in code and templates, and the text that stands
outside the catalogue.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path

from babel.messages.extract import extract
from jinja2 import Environment
from support.paths import CHECKOUT

# The names under which a sentence is said, and which of the arguments are sentences.
KEYWORDS: dict[str, tuple[int, ...] | None] = {
    "_": None,
    "n_": (1, 2),
    "say": None,
    "say_later": None,
    "say_n": (1, 2),
    "marked": None,
}
# What a person sees or hears of an element beside its text.
SPOKEN_ATTRIBUTES = {"alt", "aria-label", "aria-description", "placeholder", "title"}
# Blocks of a page that stand inside a tag: classes and data of a script, which nobody reads.
_IN_A_TAG = re.compile(
    r"{%-? block main_class %}.*?{% endblock %}|{%-? set \w+ %}data-.*?{% endset %}", re.DOTALL
)
_WORD = re.compile(r"[^\W\d_]{2}")
_HOLE = "\ue000"  # where a page has an expression or a statement
_UNSEEN = {"script", "style", "svg"}


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence where it is said. many: the form for several, "" where there is one form only."""

    place: str
    line: int
    text: str
    many: str = ""


def sentences(paths: Iterable[Path]) -> list[Sentence]:
    """Every sentence of these files, in the order they stand."""
    return [
        sentence
        for path in paths
        for sentence in (_of_code(path) if path.suffix == ".py" else _of_page(path))
    ]


def _of_page(path: Path) -> Iterator[Sentence]:
    with path.open("rb") as file:
        for line, text, _, _ in extract("jinja2.ext:babel_extract", file, KEYWORDS):
            one, many = (text, "") if isinstance(text, str) else (text[0], text[1])
            yield Sentence(_place(path), line, one, many)


def _of_code(path: Path) -> Iterator[Sentence]:
    """By the syntax tree: Babel's own reader takes also the key of say(NAMES["boot"])."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and _name(node.func) in KEYWORDS:
            forms = 2 if KEYWORDS[_name(node.func)] else 1
            texts = [
                argument.value
                for argument in node.args[:forms]
                if isinstance(argument, ast.Constant) and isinstance(argument.value, str)
            ]
            if texts:
                yield Sentence(_place(path), node.lineno, texts[0], "".join(texts[1:]))


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _place(path: Path) -> str:
    return path.relative_to(CHECKOUT).as_posix()


def code_and_pages() -> list[Path]:
    """All files that may say something: the package's modules and the templates."""
    folders = (("fitcounter", "*.py"), ("templates", "*.html"))
    return [path for name, kind in folders for path in sorted((CHECKOUT / name).rglob(kind))]


class _Seen(HTMLParser):
    """Collects what a person reads of a page, tags taken away."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self._unseen = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._unseen += tag in _UNSEEN
        self.texts += [text for name, text in attrs if name in SPOKEN_ATTRIBUTES and text]

    def handle_endtag(self, tag: str) -> None:
        self._unseen -= tag in _UNSEEN

    def handle_data(self, data: str) -> None:
        if not self._unseen:
            self.texts.append(data)


def outside_in_pages() -> dict[str, int]:
    """Template, and how many of its texts go through no catalogue, for each with any."""
    pages = (path for path in code_and_pages() if path.suffix == ".html")
    counts = {_place(path): len(outside(path.read_text(encoding="utf-8"))) for path in pages}
    return {place: count for place, count in counts.items() if count}


def outside(template: str) -> list[str]:
    """The texts of a template that a person reads and that go through no catalogue: pieces with
    two letters side by side, statements and expressions of Jinja taken out.
    """
    pieces = []
    for _, kind, value in Environment(autoescape=True).lex(_IN_A_TAG.sub("", template)):
        if kind == "data":
            pieces.append(value)
        elif kind in ("variable_begin", "block_begin"):
            pieces.append(_HOLE)
    page = _Seen()
    page.feed("".join(pieces))
    texts = (part.strip() for text in page.texts for part in text.split(_HOLE))
    return [text for text in texts if _WORD.search(text)]
