"""Pages go out without the indentation of their templates: every byte crosses the shop's radio."""

from __future__ import annotations

import re

from jinja2.ext import Extension

_INDENT = re.compile(r"\n[ \t]+")


class Unindented(Extension):
    """Takes the blanks at the beginning of each line; lines stay, so that an error names its
    own.
    """

    def preprocess(self, source: str, name: str | None, filename: str | None = None) -> str:
        return _INDENT.sub("\n", source)
