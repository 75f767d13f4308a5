"""The program's records, quick to load: half of the time of loading went into compiling the methods
of its 450 frozen dataclasses.

Python 3.11 and 3.12 write and compile the source of six methods for each of them. All but
`__init__` can as well be made from one function each, and do the same.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from inspect import signature
from operator import attrgetter
from reprlib import recursive_repr
from typing import Any

Fields = Sequence["dataclasses.Field[Any]"]
_ASSIGNED, _DELETED = "cannot assign to field {!r}", "cannot delete field {!r}"  # a slip of ours
_NAME = re.compile(r"self\.(\w+),")


@contextmanager
def quick_records() -> Iterator[None]:
    """Dataclasses that are defined inside get methods that are made, not compiled. Where this
    Python makes them in another way, as 3.13 does, nothing is changed.
    """
    usual = {name: getattr(dataclasses, name, None) for name in _MADE}
    if all(_takes(usual[name]) == _takes(made) for name, made in _MADE.items()):
        vars(dataclasses).update(_MADE)
    try:
        yield
    finally:
        vars(dataclasses).update((name, made) for name, made in usual.items() if made)


def _takes(function: Callable[..., Any] | None) -> list[str]:
    return list(signature(function).parameters) if function else []


def _values(names: Sequence[str]) -> Callable[[Any], tuple[Any, ...]]:
    """What a record holds under these names."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda record: tuple(getattr(record, name) for name in names)


def _frozen(
    cls: Any,
    fields: Fields,
    globals: object,  # noqa: A002 - as dataclasses names it
) -> tuple[Callable[..., None], ...]:
    names = frozenset(field.name for field in fields)

    def set_attribute(self: Any, name: str, value: object) -> None:
        if type(self) is cls or name in names:
            raise dataclasses.FrozenInstanceError(_ASSIGNED.format(name))
        super(cls, self).__setattr__(name, value)

    def delete_attribute(self: Any, name: str) -> None:
        if type(self) is cls or name in names:
            raise dataclasses.FrozenInstanceError(_DELETED.format(name))
        super(cls, self).__delattr__(name)

    # it is by these names that they are put on the class
    set_attribute.__name__, delete_attribute.__name__ = "__setattr__", "__delattr__"
    return set_attribute, delete_attribute


def _repr(
    fields: Fields,
    globals: object,  # noqa: A002 - as dataclasses names it
) -> Callable[[Any], str]:
    names = [field.name for field in fields]

    @recursive_repr()
    def representation(self: Any) -> str:
        held = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
        return f"{self.__class__.__qualname__}({held})"

    return representation


def _compare(
    name: str,
    op: str,
    self_tuple: str,
    other_tuple: str,
    globals: object,  # noqa: A002 - as dataclasses names it
) -> Callable[..., Any]:
    """self_tuple: "(self.a,self.b,)"."""
    if op != "==":
        return _COMPILED(name, op, self_tuple, other_tuple, globals=globals)
    values = _values(_NAME.findall(self_tuple))

    def equal(self: Any, other: Any) -> Any:
        if other.__class__ is self.__class__:
            return values(self) == values(other)
        return NotImplemented

    return equal


def _hash(
    fields: Fields,
    globals: object,  # noqa: A002 - as dataclasses names it
) -> Callable[[Any], int]:
    values = _values([field.name for field in fields])

    def hashed(self: Any) -> int:
        return hash(values(self))

    return hashed


_COMPILED: Callable[..., Callable[..., Any]] = getattr(dataclasses, "_cmp_fn", _compare)
_MADE: dict[str, Callable[..., Any]] = {
    "_frozen_get_del_attr": _frozen,
    "_repr_fn": _repr,
    "_cmp_fn": _compare,
    "_hash_fn": _hash,
}
