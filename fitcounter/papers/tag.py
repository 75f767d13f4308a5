"""Tags: 62 by 100 mm, made in advance or for one job, for boots and for trees.

The spoken number and the side are the largest things on it, to be read from two metres; a black
edge stands on the side the boot is worn; the code stands there twice and once more in characters;
four rows wait for a pencil.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from markupsafe import Markup

from fitcounter.errors import message
from fitcounter.fit.tagcode import show_code
from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Counted, print_pdf
from fitcounter.papers.qr_code import side_mm, square
from fitcounter.papers.records import TagLabel, TagSheet

LONGEST_SQUARE: Final = (
    33  # modules a side; one more size would leave no room for the number or the pencil
)
_FACE_MM: Final = 56.0
_HEIGHT_MM: Final = 100.0
_SIDE_ROW_MM: Final = 15.5
_TALLEST_MM: Final = 20.5
_WHO_ENDS_MM: Final = 10.4  # below three lines: the shop in two, and the phone that a finder calls
_OVER_FIGURES: Final = 0.16  # of the size of our letters: the white over a figure
_SHEETS: Final = {"a4": (210.0, 297.0), "letter": (215.9, 279.4), "label": (62.0, 100.0)}
_A_SHEET: Final = 8
_MAKING: Final = message("Making tags")
_SIDES: Final = {"left": message("Left"), "right": message("Right")}
_SIDE_PT: Final = 46.0
_SIDE_ROOM_MM: Final = 50.6
_ROWS: Final = 3  # below what hangs on it, above the code's characters
_MM_PER_PT: Final = 25.4 / 72
_LETTER_EM: Final = 0.53  # of our bold serif letters, a little generous


@dataclass(frozen=True, slots=True)
class _Laid:
    """A label with the places of its parts, in millimetres from the top of the label."""

    key: str
    number: str
    code: str
    side: str
    side_words: str
    side_is_words: bool
    side_pt: float
    title: str
    lines: tuple[tuple[str, str], ...]
    name: str
    name_rows: int
    pencil_word: str
    square: Markup
    square_mm: float
    number_mm: float
    number_top_mm: float
    side_top_mm: float
    pencil_top_mm: float
    row_mm: float
    words_top_mm: float
    words_width_mm: float
    who_width_mm: float


def tags(sheet: TagSheet, say: Say = in_english, language: str = "en") -> bytes:
    """The labels as PDF: one a page, or eight lying on a sheet of A4 or Letter with lines to cut
    along.

    Raises BadInput when an address is too long for the square, Unavailable when PDFs cannot be made
    here.
    """
    laid = [_lay(f"t{place}", label, say) for place, label in enumerate(sheet.labels)]
    width, height = _SHEETS[sheet.paper]
    return print_pdf(
        "tag.html",
        title=_title(sheet, say),
        counted=Counted(_MAKING, len(laid), 1 if sheet.paper == "label" else _A_SHEET),
        language=language,
        say=say,
        paper=sheet.paper,
        shop=sheet.shop,
        laid=laid,
        sheets=[laid[start : start + _A_SHEET] for start in range(0, len(laid), _A_SHEET)],
        sheet_height_mm=height,
        left_mm=(width - 200) / 2,
        top_mm=(height - 248) / 2,
    )


def _title(sheet: TagSheet, say: Say) -> str:
    """What the document is called: the first and last number on it."""
    first, last = sheet.labels[0].number, sheet.labels[-1].number
    if len(sheet.labels) == 1:
        return say("Tag {number}", number=first)
    return say("Tags {first} to {last}", first=first, last=last)


def _lay(key: str, label: TagLabel, say: Say) -> _Laid:
    """Where everything on this label goes: the square first, the rest around it."""
    picture = square(
        label.address.upper(),
        title=say("Code to scan for tag {code}", code=show_code(label.code)),
        most_modules=LONGEST_SQUARE,
    )
    wide = side_mm(label.address.upper())
    room = _FACE_MM - wide - 2.4
    below_who = (wide - 1.2 - _WHO_ENDS_MM) / (1 - _OVER_FIGURES)
    number_mm = min(_TALLEST_MM, below_who, room / _width_em(label.number))
    pencil_top = wide + _SIDE_ROW_MM
    side_words = _side_words(label, say)
    lines = label.lines[: _ROWS - bool(label.name)]
    in_words = not label.side and label.kind != "tree"
    return _Laid(
        key=key,
        number=label.number,
        code=label.code,
        side=label.side,
        side_words=side_words,
        side_is_words=in_words,
        side_pt=round(
            min(_SIDE_PT, _SIDE_ROOM_MM / (len(side_words) * _LETTER_EM * _MM_PER_PT)), 1
        ),
        title=label.title,
        lines=lines,
        name=label.name,
        name_rows=_ROWS - len(lines),
        pencil_word=say("boot") if label.kind == "tree" else say("tree"),
        square=picture,
        square_mm=wide,
        number_mm=round(number_mm, 2),
        number_top_mm=round(wide - 1.2 - number_mm, 2),
        side_top_mm=round(wide - 1.9, 2),
        pencil_top_mm=pencil_top,
        row_mm=round((_HEIGHT_MM - wide - pencil_top - 3.8) / 4, 2),
        words_top_mm=round(_HEIGHT_MM - wide + 0.8, 2),
        words_width_mm=round(_FACE_MM - wide - 3.4, 2),
        who_width_mm=round(_FACE_MM - wide - 9.4, 2),
    )


def _side_words(label: TagLabel, say: Say) -> str:
    """The words in the place of the side: the side, or what it is when it has none."""
    if label.side:
        return say(_SIDES[label.side])
    return say("Either") if label.kind == "tree" else label.title or say("Not a boot")


def _width_em(text: str) -> float:
    """How wide a number is in our bold letters, a little generous: digits half an em, capitals up
    to two thirds.
    """
    return max(1.0, sum(0.52 if character.isdigit() else 0.68 for character in text))
