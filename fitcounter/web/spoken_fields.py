"""The labels and sentences of a form's fields, said in the language of whoever is served."""

from __future__ import annotations

from typing import Any

from babel.support import LazyProxy
from wtforms.fields.core import UnboundField


def spoken(given: Any) -> Any:
    """What a field is made from, with each sentence that was to be said later said now."""
    if isinstance(given, LazyProxy):
        return str(given)
    if isinstance(given, dict):
        return {key: spoken(value) for key, value in given.items()}
    if isinstance(given, UnboundField):
        words = {key: spoken(value) for key, value in given.kwargs.items()}
        return UnboundField(given.field_class, *map(spoken, given.args), name=given.name, **words)
    return given
