"""Rows of a statement as records: which column fills which field."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import fields
from functools import cache
from operator import itemgetter
from typing import Any


@cache
def field_names(kind: Hashable) -> tuple[str, ...]:
    """The fields of a dataclass or a named tuple, in their order."""
    named: tuple[str, ...] | None = getattr(kind, "_fields", None)  # of a tuple with names
    # else a dataclass
    return named or tuple(field.name for field in fields(kind))  # type: ignore[arg-type]


@cache
def in_field_order(kind: Hashable, columns: tuple[str, ...]) -> Callable[[Any], Any]:
    """A function that picks the values of a record, in its own order, out of a row of these
    columns. Made once for them, whichever connection asks.
    """
    names = field_names(kind)
    return (
        itemgetter(*(columns.index(name) for name in names))
        if len(names) > 1
        else lambda row: (row[columns.index(names[0])],)
    )
