"""The lock files name every package that their packages ask for: the set-up installs the pins and
nothing besides.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.metadata import requires

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from support.paths import CHECKOUT

FILES = ("fitcounter/requirements.txt", "tests/requirements.txt")


def pinned(file: str) -> dict[str, Requirement]:
    """What a lock file installs on this machine, by name."""
    lines = re.findall(
        r"^[a-z][^\\\n]*", (CHECKOUT / file).read_text(encoding="utf-8"), re.MULTILINE
    )
    found = [Requirement(line) for line in lines]
    return {
        canonicalize_name(one.name): one
        for one in found
        if one.marker is None or one.marker.evaluate()
    }


def asked_for(name: str, extras: set[str]) -> Iterator[Requirement]:
    """What an installed package needs here, with the extras somebody wants of it."""
    for text in requires(name) or []:
        one = Requirement(text)
        if one.marker is None or any(
            one.marker.evaluate({"extra": extra}) for extra in ("", *extras)
        ):
            yield one


@pytest.mark.parametrize("file", FILES)
def test_every_package_that_a_pinned_one_asks_for_is_pinned_within_its_range(file: str) -> None:
    pins = pinned(file)
    assert len(pins) > 20
    extras: dict[str, set[str]] = {name: set(one.extras) for name, one in pins.items()}
    wrong, waiting = [], list(pins)
    while waiting:
        name = waiting.pop()
        for need in asked_for(name, extras[name]):
            at = canonicalize_name(need.name)
            version = next((one.version for one in pins[at].specifier), "") if at in pins else ""
            if not version or not need.specifier.contains(version, prereleases=True):
                wrong.append(f"{name} asks for {need}")
            elif not need.extras <= extras[at]:
                extras[at] |= need.extras
                waiting.append(at)
    assert not wrong
