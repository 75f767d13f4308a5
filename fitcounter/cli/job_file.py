"""A job as it lies in a file or comes in on standard input: JSON (RFC 8259) in UTF-8, each name
once in its object.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

from fitcounter.errors import BadInput, NotFound, message
from fitcounter.fit.assessment.job_fields import below, spelled


def read_json(name: str) -> object:
    """The JSON value in a file, or on standard input for "-". Raises NotFound or BadInput."""
    called = message("Standard input") if name == "-" else spelled(name)
    try:
        content = sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()
        value = json.loads(content.decode("utf-8-sig"), object_pairs_hook=_without_repeats)
        repeated = next(_repeats(value, ""), None)
    except OSError as error:
        sentence = message(
            "{called} cannot be read: {reason}. Write the name of a job file, or - for standard"
            " input.",
            called=called,
            reason=error.strerror,
        )
        raise NotFound(sentence, field="job") from error
    except UnicodeDecodeError as error:
        raise BadInput(
            message("{called} is not UTF-8 text. Save it as UTF-8.", called=called), field="job"
        ) from error
    except json.JSONDecodeError as error:
        raise _no_json(called, error) from error
    except (
        ValueError,
        RecursionError,
    ) as error:  # a number of thousands of digits, brackets in thousands of brackets
        raise BadInput(
            message(
                "{called} holds a number or a nesting too long to be part of a job.", called=called
            ),
            field="job",
        ) from error
    if repeated is not None:
        raise BadInput(
            message("{repeated} is written twice in one object. Leave one.", repeated=repeated),
            field=repeated,
        )
    return value


def _no_json(called: str, error: json.JSONDecodeError) -> BadInput:
    sentence = message(
        "{called} is not JSON (line {line}, column {column}): {reason}.",
        called=called,
        line=error.lineno,
        column=error.colno,
        reason=error.msg,
    )
    return BadInput(sentence, field="job")


class _Repeated(str):
    """In the place of an object that holds this name twice."""


def _without_repeats(pairs: list[tuple[str, object]]) -> dict[str, object] | _Repeated:
    """RFC 8259 §4 leaves open which of two equal names counts; a job must not depend on it."""
    seen: dict[str, object] = {}
    for name, value in pairs:
        if name in seen:
            return _Repeated(name)
        seen[name] = value
    return seen


def _repeats(value: object, path: str) -> Iterator[str]:
    """Where in a JSON value a name is written twice: "left.leg[2].height"."""
    if isinstance(value, _Repeated):
        yield below(path, value)
    elif isinstance(value, dict):
        for name, part in value.items():
            yield from _repeats(part, below(path, name))
    elif isinstance(value, list):
        for place, part in enumerate(value):
            yield from _repeats(part, f"{path}[{place}]")
