"""What each application compiles for itself, templates and addresses, compiled once for all the
applications of a worker.
"""

from __future__ import annotations

from collections.abc import Callable
from types import CodeType

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from werkzeug.routing import Map, Rule


class TemplatesOnce(BytecodeCache):
    """In memory, so that no disk fault of a test meets it."""

    def __init__(self) -> None:
        self.held: dict[tuple[str, str], CodeType | None] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self.held.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.held[bucket.key, bucket.checksum] = bucket.code


def bind_once() -> Callable[..., None]:
    """Rule.bind, which compiles, for rules that are the same but for the map they belong to."""
    compiled: dict[object, dict[str, object]] = {}
    real = Rule.bind

    def bind(rule: Rule, of: Map, rebind: bool = False) -> None:
        same = type(rule), *map(_fixed, rule.get_empty_kwargs().values()), rule.rule
        if same in compiled:
            rule.__dict__.update(compiled[same], map=of)
        else:
            real(rule, of, rebind)
            compiled[same] = dict(rule.__dict__)

    return bind


def _fixed(value: object) -> object:
    """A value of a rule as a key can have it."""
    if isinstance(value, dict):
        return frozenset(value.items())
    return frozenset(value) if isinstance(value, set) else value
