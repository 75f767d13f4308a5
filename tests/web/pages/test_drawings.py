"""Drawings are set once for the same figures in one language, and again for any other."""

from __future__ import annotations

from dataclasses import replace

from flask import Flask

from fitcounter.desk.common.translation import Speech, speaking
from fitcounter.fit.drawings.rounds_chart import RoundReadings, rounds_drawing
from fitcounter.web.pages.drawings import set_drawing


def test_a_drawing_is_what_its_template_makes_of_its_figures_and_of_no_others(app: Flask) -> None:
    chart = rounds_drawing((RoundReadings(368.0, 380.0, 374.0),), 376.5, unit="cm")
    other = replace(chart, title="Another boot")
    with app.app_context():
        made = set_drawing(chart)
        template = app.jinja_env.get_template("drawings/rounds.svg")
        assert made == template.render(chart=chart)
        assert set_drawing(replace(chart)) is made
        assert "Another boot" in set_drawing(other)
        assert "Another boot" not in set_drawing(chart)


def test_a_drawing_is_said_in_the_language_of_whoever_looks(app: Flask) -> None:
    chart = rounds_drawing((RoundReadings(368.0, 380.0, 374.0),), 376.5, unit="cm")
    with app.app_context():
        english = set_drawing(chart)
        with speaking(Speech("es", "ES")):
            spanish = set_drawing(chart)
        assert "37.4" in english
        assert "37,4" in spanish
        assert "37.4" not in spanish
        assert set_drawing(chart) == english
