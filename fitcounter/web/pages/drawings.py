"""Drawings as they stand on pages: set once for the same figures in one language, because a boot's
page is opened at every scan. Nothing but the figures is in them.
"""

from __future__ import annotations

from functools import lru_cache

from flask import Flask, current_app
from markupsafe import Markup

from fitcounter.desk.common.translation import Speech, spoken
from fitcounter.fit.drawings.pair import Drawing
from fitcounter.fit.drawings.rounds_chart import RoundsDrawing

MOST_KEPT = 512
# The template of each kind, and what it is called in there.
TEMPLATES = {Drawing: ("profile.svg", "drawing"), RoundsDrawing: ("rounds.svg", "chart")}


def set_drawing(drawing: Drawing | RoundsDrawing) -> Markup:
    """A boot against the line it must reach, or its rounds, in the language spoken just now."""
    return _set(spoken(), drawing)


@lru_cache(maxsize=MOST_KEPT)
def _set(_: Speech, drawing: Drawing | RoundsDrawing) -> Markup:
    file, name = TEMPLATES[type(drawing)]
    template = current_app.jinja_env.get_template(f"drawings/{file}")
    return Markup(template.render({name: drawing}))


def wire(app: Flask) -> None:
    app.jinja_env.globals["set_drawing"] = set_drawing
