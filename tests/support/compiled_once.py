"""What each application compiles for itself, templates and addresses, compiled once for all the
applications of a worker.
"""

from __future__ import annotations

from collections.abc import Callable

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from werkzeug.routing import Map, Rule


class TemplatesOnce(BytecodeCache):
    """In memory, so that no disk fault of a test meets it."""

    def __init__(self) -> None:
        self.held: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self.held:
            bucket.bytecode_from_string(self.held[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.held[bucket.key] = bucket.bytecode_to_string()


def bind_once() -> Callable[..., None]:
    """Rule.bind, which compiles, for rules that are the same but for the map they belong to."""
    compiled: dict[object, dict[str, object]] = {}
    real = Rule.bind

    def bind(rule: Rule, of: Map, rebind: bool = False) -> None:
        same = type(rule), rule.rule, repr(rule.get_empty_kwargs())
        if same in compiled:
            rule.__dict__.update(compiled[same], map=of)
        else:
            real(rule, of, rebind)
            compiled[same] = dict(rule.__dict__)

    return bind
