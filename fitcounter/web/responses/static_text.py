"""Style sheets and scripts as they go out: a sheet with what it imports in it, so that a phone
fetches one file, and without what only we read. Lines stay, so that an error names its own.
"""

from __future__ import annotations

import hashlib
import re
from functools import cache, cached_property
from io import BytesIO
from pathlib import Path

from flask import Response, send_file

from fitcounter.web.responses.made_once import Application

_IMPORT = re.compile(r'^@import "(css/[a-z_]+\.css)";$', re.MULTILINE)
_COMMENT = {
    ".css": re.compile(r"/\*.*?\*/", re.DOTALL),
    # of a script only whole lines: within one, "//" may stand in a string
    ".js": re.compile(r"^[ \t]*(?://.*|/\*(?:(?!\*/)[\s\S])*\*/[ \t]*)$", re.MULTILINE),
}
_INDENT = re.compile(r"^[ \t]+", re.MULTILINE)


def joined(sheet: Path) -> str:
    """A style sheet with the text of each `@import "css/….css";` in its place."""
    text = sheet.read_text(encoding="utf-8")
    return _IMPORT.sub(lambda found: (sheet.parent / found[1]).read_text(encoding="utf-8"), text)


def without_our_notes(text: str, suffix: str) -> str:
    """A style sheet (.css) or script (.js) without comments and indentation, line for line."""
    bare = _COMMENT[suffix].sub(lambda found: "\n" * found[0].count("\n"), text)
    return _INDENT.sub("", bare)


@cache
def sent(path: Path) -> bytes:
    """What is sent of a style sheet or script of ours."""
    return without_our_notes(joined(path), path.suffix).encode()


class WithStaticText(Application):
    """Serves our style sheets and scripts as they go out, every other file as it lies there."""

    def send_static_file(self, filename: str) -> Response:
        path = Path(str(self.static_folder)) / filename
        if path not in self._texts:
            return super().send_static_file(filename)
        text = sent(path)
        return send_file(
            BytesIO(text),
            download_name=path.name,
            max_age=self.get_send_file_max_age(filename),
            etag=hashlib.sha256(text).hexdigest()[:12],
        )

    @cached_property
    def _texts(self) -> frozenset[Path]:
        """Every style sheet and script in the folder that is ours."""
        found = Path(str(self.static_folder)).rglob("*")
        return frozenset(
            path for path in found if path.suffix in _COMMENT and "vendor" not in path.parts
        )
