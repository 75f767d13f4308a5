"""Pages without the indentation of their templates."""

from __future__ import annotations

import re

import pytest
from jinja2 import Environment
from support.cast import Counter

from fitcounter.web.responses.unindented import Unindented


def test_no_line_of_a_page_begins_with_blanks_and_no_two_words_grow_together(counter: Counter):
    page = counter.get("/").text
    assert len(page.splitlines()) > 20
    assert re.search(r"^[ \t]+<", page, re.MULTILINE) is None
    made = Environment(extensions=[Unindented]).from_string("<p>one\n    two{# x #}\n  three</p>")
    assert made.render() == "<p>one\ntwo\nthree</p>"


def test_an_error_in_a_template_names_its_own_line():
    broken = Environment(extensions=[Unindented]).from_string("a\n   b\n  {{ 1 // nothing }}")
    with pytest.raises(TypeError) as failed:
        broken.render(nothing=None)
    assert failed.traceback[-1].lineno == 2, "counted from 0"
