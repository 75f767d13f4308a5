"""The owner's guide as one PDF: its chapters with their pictures, on A4 or Letter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup

from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Document, print_pdf
from fitcounter.papers.records import Letterhead, Paper

PICTURE = Markup('<img class="shot" src="{}" alt="{}">')


def guide(
    shop: Letterhead,
    chapters: Sequence[tuple[str, str]],
    pictures: Mapping[str, bytes],
    paper: Paper,
    say: Say = in_english,
    language: str = "en",
) -> bytes:
    """Every chapter in order as a tagged PDF.

    chapters: (name, title); templates/guide/NAME.html holds the text. pictures: the bytes of a
    picture by the name that the text calls it. say: gives our sentences in the language. Raises
    Unavailable where PDFs cannot be made.
    """
    return print_pdf(
        Document("guide.html", say("Owner’s guide"), paper, language, say),
        shop=shop,
        chapters=chapters,
        picture=lambda name, words: PICTURE.format(f"{name}.webp", words),
        pictures={f"{name}.webp": data for name, data in pictures.items()},
    )
