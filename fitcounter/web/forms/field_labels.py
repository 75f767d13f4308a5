"""The labels and sentences of a form's fields, said in the language of whoever is served."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from babel.support import LazyProxy
from wtforms.fields.core import UnboundField

from fitcounter.desk.common.translation import Speech

MOST_KEPT = 2048


@lru_cache(maxsize=MOST_KEPT)
def in_speech(field: UnboundField[Any], _: Speech) -> Any:
    """What a field is made from, said in the language spoken just now. Made once for a language,
    whatever form is shown or saved.
    """
    return _spoken(field)


def _spoken(given: Any) -> Any:
    """The same with each sentence that was to be said later said now."""
    if isinstance(given, LazyProxy):
        return str(given)
    if isinstance(given, dict):
        return {key: _spoken(value) for key, value in given.items()}
    if isinstance(given, UnboundField):
        words = {key: _spoken(value) for key, value in given.kwargs.items()}
        return UnboundField(given.field_class, *map(_spoken, given.args), name=given.name, **words)
    return given
