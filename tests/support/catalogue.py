"""The sentences of the program as Babel finds them in code and templates, and the text that stands
outside the catalogue.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from babel.messages.extract import extract
from jinja2 import Environment
from support.paths import CHECKOUT

from fitcounter.fit.handbook.all_figures import entries
from fitcounter.fit.handbook.figure import Trust
from fitcounter.fit.handbook.leather import LEATHERS

# The names under which a sentence is said, and which of the arguments are sentences.
KEYWORDS: dict[str, tuple[int, ...] | None] = {
    "_": None,
    "n_": (1, 2),
    "say": None,
    "say_later": None,
    "say_n": (1, 2),
    "marked": None,
    "stop": None,
    "message": None,
    "message_n": (1, 2),
}
# What a person sees or hears of an element beside its text.
SPOKEN_ATTRIBUTES = {"alt", "aria-label", "aria-description", "placeholder", "title"}
# Blocks of a page that nobody reads: classes inside a tag, style, data of a script.
_IN_A_TAG = re.compile(
    r"{%-? block (main_class|style|page) %}.*?{% endblock %}|{%-? set \w+ %}data-.*?{% endset %}",
    re.DOTALL,
)
_LETTER = re.compile(r"[^\W\d_]")
_WORD = re.compile(r"[^\W\d_]{2}")
_TWO_WORDS = re.compile(r"[^\W\d_]{2}.* .*[^\W\d_]{2}")
# Errors for whoever writes the program, or for a machine.
_FOR_US = {
    *("AssertionError", "HTTPException", "KeyError", "RuntimeError", "TimeoutError", "TypeError"),
    "ValueError",
}
# What a script says through the catalogue, and a string in any of its quotes.
_SAID = re.compile(r"""\b_\(\s*'[^'\n]*'(?:\s*\+\s*'[^'\n]*')*""")
_QUOTED = re.compile(r"""['"`]([^'"`\n]*)['"`]""")
_SENTENCE = re.compile(r"[A-Z][a-z’]+ (?:[a-z]|\$)")
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
    return [sentence for path in paths for sentence in _READERS[path.suffix](path)]


def _of_page(path: Path) -> Iterator[Sentence]:
    with path.open("rb") as file:
        for line, text, _, _ in extract("jinja2.ext:babel_extract", file, KEYWORDS):
            one, many = (text, "") if isinstance(text, str) else (text[0], text[1])
            yield Sentence(_place(path), line, one, many)


def _of_script(path: Path) -> Iterator[Sentence]:
    with path.open("rb") as file:
        for line, text, _, _ in extract("javascript", file, {"_": None}):
            yield Sentence(_place(path), line, str(text))


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


_READERS = {".py": _of_code, ".html": _of_page, ".svg": _of_page, ".js": _of_script}


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _place(path: Path) -> str:
    return path.relative_to(CHECKOUT).as_posix()


def of_the_handbook() -> list[str]:
    """The words of the handbook's figures, which are put together where they are written down."""
    leathers = [text for row in LEATHERS.values() for text in (row.name, row.reason)]
    figures = [
        text for one in entries() for text in (one.chapter, one.name, one.source, one.unit_word)
    ]
    return [text for text in dict.fromkeys([*Trust, *leathers, *figures]) if _LETTER.search(text)]


@cache
def every_sentence() -> dict[str, str]:
    """Every sentence that is said somewhere, with its form for several, "" where it has none."""
    said: dict[str, str] = dict.fromkeys(of_the_handbook(), "")
    for sentence in sentences(code_and_pages()):
        said[sentence.text] = sentence.many or said.get(sentence.text, "")
    return said


def code_and_pages() -> list[Path]:
    """All files that may say something: the package's modules, the templates and the scripts."""
    folders = (
        ("fitcounter", "*.py"),
        ("templates", "*.html"),
        ("templates/drawings", "*.svg"),
        ("static/js", "*.js"),
    )
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


def outside_in_code() -> dict[str, int]:
    """Module and script, and how many of their sentences go through no catalogue."""
    readers = {".py": outside_of_module, ".js": outside_of_script}
    counts = {
        _place(path): len(readers[path.suffix](path.read_text(encoding="utf-8")))
        for path in code_and_pages()
        if path.suffix in readers
    }
    return {place: count for place, count in counts.items() if count}


def outside_of_module(code: str) -> list[str]:
    """The sentences that a module raises, flashes or prints as they stand."""
    found = []
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            spoken = _name(node.exc.func) not in _FOR_US
            arguments = node.exc.args[:1] if spoken else []
        elif isinstance(node, ast.Call) and _name(node.func) in ("flash", "print"):
            arguments = node.args[:1]
        else:
            continue
        found += [text for one in arguments if _TWO_WORDS.search(text := _text(one))]
    return found


def outside_of_script(script: str) -> list[str]:
    """The strings of a script that begin as a sentence does and go through no catalogue."""
    bare = re.sub(r"//[^\n]*|/\*.*?\*/", "", script, flags=re.DOTALL)
    return [text for text in _QUOTED.findall(_SAID.sub("", bare)) if _SENTENCE.match(text)]


def _text(node: ast.expr) -> str:
    """A string, or an f-string without its values."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(part.value for part in node.values if isinstance(part, ast.Constant))
    return ""


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
