"""Rows of a statement as records, and records as rows: which column fills which field."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import fields
from functools import cache, partial
from itertools import starmap
from operator import attrgetter, itemgetter
from typing import Any

Rows = Iterable[tuple[Any, ...]]


@cache
def field_names(kind: Hashable) -> tuple[str, ...]:
    """The fields of a dataclass or a named tuple, in their order."""
    named: tuple[str, ...] | None = getattr(kind, "_fields", None)  # of a tuple with names
    # else a dataclass
    return named or tuple(field.name for field in fields(kind))  # type: ignore[arg-type]


@cache
def records_of(kind: Hashable, columns: tuple[str, ...]) -> Callable[[Rows], list[Any]]:
    """A function that makes records of rows of these columns, which must cover their fields. Made
    once for them, whichever connection asks.
    """
    make: Any = kind
    names = field_names(kind)
    picked: Callable[[Any], Any] | None = (
        itemgetter(*map(columns.index, names))
        if len(names) > 1
        else lambda row: (row[columns.index(names[0])],)
    )
    if columns == names:
        picked = None  # a row has them in their order already
    if hasattr(make, "_fields"):  # without a call in Python for each row
        whole = partial(tuple.__new__, make)
        return lambda rows: list(map(whole, map(picked, rows) if picked else rows))
    return lambda rows: list(starmap(make, map(picked, rows) if picked else rows))


@cache
def insertion(table: str, kind: Hashable) -> tuple[str, Callable[[Any], tuple[Any, ...]]]:
    """The statement that adds a record of one kind to a table, and a function that gives the values
    it asks for; the file gives the id.
    """
    names = [name for name in field_names(kind) if name != "id"]
    sql = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join('?' * len(names))})"
    whole = names == list(getattr(kind, "_fields", ()))  # a tuple gives them as it stands
    return sql, tuple if whole else attrgetter(*names)
