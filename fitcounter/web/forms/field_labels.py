"""The labels and sentences of a form's fields, said in the language of whoever is served."""

from __future__ import annotations

from functools import lru_cache
from typing import Any
from weakref import proxy

from babel.support import LazyProxy
from wtforms import FieldList, FormField, Label
from wtforms.fields.core import UnboundField
from wtforms.form import BaseForm
from wtforms.meta import DefaultMeta

from fitcounter.desk.common.translation import Speech, spoken

MOST_KEPT = 2048


def bound(field: UnboundField[Any], form: BaseForm, name: str, **more: Any) -> Any:
    """The field of a form, with its label and sentences in the language spoken just now: a copy,
    for made from the ground the fields took a twentieth of a save. more: prefix, translations.
    """
    if issubclass(field.field_class, FieldList | FormField):  # they hold fields and forms
        return in_speech(field, spoken()).bind(form, name, **more)
    pattern = _pattern(field, spoken(), name, more["prefix"])
    made = object.__new__(type(pattern))
    made.__dict__.update(pattern.__dict__)
    made.meta, made.label = form.meta, Label(pattern.label.field_id, pattern.label.text)
    # no ring of form and field, so that both are gone when the request is, without a search for it
    made._form = proxy(form)
    if more["translations"] is not None:
        made._translations = more["translations"]
    return made


@lru_cache(maxsize=MOST_KEPT)
def _pattern(field: UnboundField[Any], words: Speech, name: str, prefix: str) -> Any:
    """A field of no form, with nothing in it."""
    made = in_speech(field, words).bind(None, name, prefix, _meta=DefaultMeta())
    del made.meta
    return made


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
