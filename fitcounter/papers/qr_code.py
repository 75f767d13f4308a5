"""The square a camera reads: a QR code (ISO/IEC 18004) as one SVG path, measured in millimetres.

Level Q and the text as given: capital addresses take the alphanumeric mode and so the smallest
square. All bars are one path, filled at once, because shapes drawn one beside the other show
hairlines between them.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from itertools import groupby
from typing import Final

from markupsafe import Markup, escape

from fitcounter.errors import BadInput, message
from fitcounter.papers.html import Say, plain
from fitcounter.papers.own_process import PICTURES

QUIET: Final = 4  # modules of white around, as the standard asks
MODULE_MM: Final = 0.8  # the smallest that survives a bench and an old phone


@lru_cache(maxsize=256)
def modules(text: str, level: str = "Q") -> tuple[tuple[bool, ...], ...]:
    """The dark (True) and light modules of the code for this text, without the quiet zone.

    level: L, M, Q or H. Raises Unavailable.
    """
    return PICTURES.do(_make, text, level)


def _make(text: str, level: str) -> tuple[tuple[bool, ...], ...]:
    """In the process of the pictures, where alone the library is loaded."""
    made: tuple[tuple[bool, ...], ...]
    made = import_module("fitcounter.papers.qr_modules").modules(text, level)
    return made


def square(
    text: str,
    *,
    title: str,
    module_mm: float = MODULE_MM,
    level: str = "Q",
    most_modules: int = 177,
) -> Markup:
    """The code as an SVG element with its quiet zone. title: what it is, read aloud in place of it.

    Raises BadInput when the text needs more than most_modules a side, quiet zone not counted.
    """
    dark = modules(text, level)
    if len(dark) > most_modules:
        raise BadInput(
            message(
                "This address is too long for the square on a tag: give the shop a shorter one."
            ),
            typed=text,
        )
    side = len(dark) + 2 * QUIET
    size = f"{side * module_mm:.2f}mm"
    return Markup(
        f'<svg class="square" width="{size}" height="{size}" viewBox="0 0 {side} {side}"'
        f' role="img"><title>{escape(plain(title))}</title><path d="{strokes(dark)}"'
        ' fill="#000"/></svg>'
    )


def short_way_to(
    link: str | None, typed: str, say: Say, module_mm: float = MODULE_MM
) -> Markup | None:
    """The square of the short address of a customer's page, for when the other one is worn. In
    capitals, as a tag's: small, and read with a corner gone.

    link: the long address; typed: the short one, as it is typed. None where there is none of both.
    """
    if not link or not typed:
        return None
    place, _, code = typed.rpartition("/")
    address = f"{link.partition('://')[0]}://{place}/{code.replace('-', '')}".upper()
    return square(address, title=say("Second code to scan for your own page"), module_mm=module_mm)


def side_mm(text: str, module_mm: float = MODULE_MM, level: str = "Q") -> float:
    """How wide the square is with its quiet zone, in millimetres."""
    return (len(modules(text, level)) + 2 * QUIET) * module_mm


def strokes(dark: tuple[tuple[bool, ...], ...]) -> str:
    """Every run of dark modules in a row as a closed bar, all in one SVG path, moved in by the
    quiet zone.
    """
    bars: list[str] = []
    for y, row in enumerate(dark, QUIET):
        x = QUIET
        for is_dark, run in groupby(row):
            wide = len(list(run))
            if is_dark:
                bars.append(f"M{x} {y}h{wide}v1h-{wide}z")
            x += wide
    return "".join(bars)
