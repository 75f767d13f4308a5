"""Forms with the tape's keys, as they stand on a page."""

from __future__ import annotations

import re
from html import unescape

FORM = re.compile(r"<form.*?</form>", re.DOTALL)


def form_with(page: str, field: str) -> str:
    """The form in which a field stands. Raises StopIteration where there is none."""
    return next(one for one in FORM.findall(page) if f'name="{field}"' in one)


def said(form: str) -> str:
    """What stands in it, without its tags."""
    return " ".join(unescape(re.sub(r"<[^>]+>", "", form)).split())


def has_keys(page: str, *fields: str) -> str:
    """The form, checked: the keys once, hidden until a script shows them, and one button that sends
    it, the panel's own; every field is a text field that the keys write into.
    """
    form = form_with(page, fields[0])
    assert "js/tape_keys.js" in page
    assert (form.count("data-keys"), form.count("data-pad"), form.count("data-go")) == (1, 1, 1)
    assert re.search(r"<div[^>]*data-pad[^>]*hidden>", form)
    assert re.findall(r"<button(?! type=\"submit\")", form) == []
    assert form.count('<button type="submit"') == 1
    assert form.index("data-go") > form.index("data-pad")
    for name in fields:
        found = re.search(rf'<input[^>]*name="{name}"[^>]*>', form)
        assert found, name
        assert 'type="text"' in found[0], name
        assert "data-tape=" in found[0], name
    return form


def likely_mm(form: str, field: str) -> str:
    tag = re.search(rf'<input[^>]*name="{field}"[^>]*>', form)
    assert tag, field
    likely = re.search(r'data-likely="([^"]*)"', tag[0])
    assert likely, field
    return likely[1]
