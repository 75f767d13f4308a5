"""What the computation hands out cannot be changed by who gets it, and says its types in a form
that can be read.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import typing
from dataclasses import is_dataclass
from types import FunctionType, ModuleType

import pytest

from fitcounter import fit

MODULES = [
    importlib.import_module(one.name)
    for one in pkgutil.walk_packages(fit.__path__, "fitcounter.fit.")
]
CLASSES = [
    kind
    for module in MODULES
    for _, kind in inspect.getmembers(module, inspect.isclass)
    if kind.__module__ == module.__name__
]
RECORDS = [kind for kind in CLASSES if is_dataclass(kind)]


def test_there_are_records_in_most_modules():
    assert len({kind.__module__ for kind in RECORDS}) > len(MODULES) / 2


@pytest.mark.parametrize(
    "record",
    RECORDS,
    ids=[f"{kind.__module__.rsplit('.', 1)[1]}.{kind.__name__}" for kind in RECORDS],
)
def test_a_record_is_frozen_and_slotted(record: type):
    """A field cannot be set again, and a field that does not exist cannot be added by a slip of the
    pen.
    """
    one = object.__new__(record)
    first = next(iter(record.__dataclass_fields__))
    with pytest.raises(AttributeError, match="cannot assign to field"):
        setattr(one, first, 1)
    assert not hasattr(one, "__dict__")


@pytest.mark.parametrize(
    "module", MODULES, ids=[module.__name__.rsplit(".", 1)[1] for module in MODULES]
)
def test_every_annotation_names_a_type(module: ModuleType):
    """They are kept as text, so only reading them shows that they are true."""
    own = [
        one
        for one in vars(module).values()
        if isinstance(one, FunctionType) and one.__module__ == module.__name__
    ]
    kinds = [kind for kind in CLASSES if kind.__module__ == module.__name__]
    methods = [one for kind in kinds for one in vars(kind).values()]
    plain = [getattr(one, "fget", None) or getattr(one, "__func__", one) for one in methods]
    for thing in (
        *own,
        *kinds,
        *(
            one
            for one in plain
            if isinstance(one, FunctionType) and one.__module__ == module.__name__
        ),
    ):
        assert isinstance(typing.get_type_hints(thing), dict)
