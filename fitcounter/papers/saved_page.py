"""The calendar as one HTML file to keep: complete without network and without script, with its own
print style.

A small script in the file counts the minutes of today's wear. The file's own content policy (CSP
Level 3, by hashes) lets exactly this script and this style in, whatever a name on the page says.
"""

from __future__ import annotations

import base64
import hashlib

from markupsafe import Markup

from fitcounter.papers.calendar_days import cautions, day_lines, missed_together, when_on
from fitcounter.papers.calendar_records import CalendarSheet
from fitcounter.papers.html import Say, in_english, page, raw


def calendar_page(sheet: CalendarSheet, say: Say = in_english) -> bytes:
    """The calendar as a self-contained HTML file in UTF-8. say: gives our sentences in the language
    of the sheet.

    Raises KeyError for a sentence the sheet does not have.
    """
    style, script = raw("saved.css"), raw("saved.js")
    lines = missed_together(day_lines(sheet, say))
    html = page(
        "saved.html",
        language=sheet.language,
        say=say,
        title=sheet.texts["calendar"],
        sheet=sheet,
        lines=lines,
        when_on=when_on(lines, say),
        cautions=cautions(say),
        dial="".join(character for character in sheet.shop_phone if character in "+0123456789"),
        style=Markup(style),
        script=Markup(script),
        policy=Markup(policy()),
    )
    return html.encode()


def policy() -> str:
    """What the page may load: its own style and script, and nothing else."""
    style, script = (_hash(raw(name)) for name in ("saved.css", "saved.js"))
    return (
        f"default-src 'none'; style-src '{style}'; script-src '{script}'; base-uri 'none';"
        " form-action 'none'"
    )


def _hash(text: str) -> str:
    """The name a content policy knows this text by."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
