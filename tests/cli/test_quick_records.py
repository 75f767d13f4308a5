"""Records whose methods were made and not compiled are as all others."""

from __future__ import annotations

import copy
import dataclasses
import sys
from collections.abc import Callable
from typing import Any

import pytest

from fitcounter.cli.quick_records import quick_records

OURS = ("_frozen_get_del_attr", "_repr_fn", "_cmp_fn", "_hash_fn")


def records() -> dict[str, Any]:
    """Records of each kind that the program has, defined where this is called."""

    @dataclasses.dataclass(frozen=True, slots=True)
    class Two:
        girth_mm: float
        words: tuple[str, ...] = ("a",)

    @dataclasses.dataclass(frozen=True, slots=True)
    class One:
        girth_mm: float

    @dataclasses.dataclass(frozen=True, slots=True)
    class Empty:
        pass

    @dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
    class Seen:
        unseen: int = dataclasses.field(default=0, compare=False, repr=False)
        made: list[int] = dataclasses.field(default_factory=list)
        half: float = 0.0

        def __post_init__(self) -> None:
            object.__setattr__(self, "half", len(self.made) / 2)

    @dataclasses.dataclass(frozen=True, order=True)
    class Ordered:
        n: int
        text: str = ""

    @dataclasses.dataclass(slots=True)
    class Open:
        n: int

    return {kind.__name__: kind for kind in (Two, One, Empty, Seen, Ordered, Open)}


def made() -> dict[str, Any]:
    with quick_records():
        return records()


def of_each(kinds: dict[str, Any]) -> list[Any]:
    return [
        kinds["Two"](1.5),
        kinds["Two"](1.5, ("b", "c")),
        kinds["Two"](NAN),
        kinds["One"](2.5),
        kinds["One"](NAN),
        kinds["Empty"](),
        kinds["Seen"](unseen=1, made=[1, 2, 3]),
        kinds["Seen"](unseen=2, made=[1, 2, 3]),
        kinds["Ordered"](1, "b"),
        kinds["Ordered"](2),
        kinds["Open"](3),
    ]


NAN = float("nan")


def said(do: Callable[[], object]) -> object:
    """What comes of it, or what it raises."""
    try:
        return do()
    except Exception as error:
        return type(error).__name__, str(error)


def test_they_compare_hash_read_and_refuse_as_compiled_ones() -> None:
    ours, usual = of_each(made()), of_each(records())
    assert len(ours) == len(usual) == 11
    for one, other in zip(ours, usual, strict=True):
        assert repr(one) == repr(other)
        assert said(lambda one=one: hash(one)) == said(lambda other=other: hash(other))
        assert [one == each for each in ours] == [other == each for each in usual]
        assert one.__eq__(other) is NotImplemented
        for name in [*(field.name for field in dataclasses.fields(one)), "none"]:
            assert said(lambda one=one, name=name: setattr(one, name, 1)) == said(
                lambda other=other, name=name: setattr(other, name, 1)
            )
            assert said(lambda one=one, name=name: delattr(one, name)) == said(
                lambda other=other, name=name: delattr(other, name)
            )


def test_they_are_ordered_changed_and_copied_as_others() -> None:
    kinds = made()
    assert sorted([kinds["Ordered"](2), kinds["Ordered"](1, "b")])[0].n == 1
    two = kinds["Two"](1.5)
    assert dataclasses.replace(two, girth_mm=2.0) == kinds["Two"](2.0)
    assert copy.deepcopy(two) == two
    assert dataclasses.asdict(two) == {"girth_mm": 1.5, "words": ("a",)}


def test_what_is_defined_afterwards_is_compiled_as_ever() -> None:
    before = [getattr(dataclasses, name, None) for name in OURS]
    with pytest.raises(ZeroDivisionError), quick_records():
        raise ZeroDivisionError
    assert [getattr(dataclasses, name, None) for name in OURS] == before


@pytest.mark.skipif(sys.version_info >= (3, 13), reason="makes them in another way")
def test_a_python_that_makes_them_otherwise_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    def other(fields: object) -> None:
        """With other parameters."""

    monkeypatch.setattr(dataclasses, "_hash_fn", other)
    before = [getattr(dataclasses, name) for name in OURS]
    with quick_records():
        assert [getattr(dataclasses, name) for name in OURS] == before
    monkeypatch.undo()
    with quick_records():
        makes_hashes = vars(dataclasses)["_hash_fn"]
        assert makes_hashes.__module__ == "fitcounter.cli.quick_records"
