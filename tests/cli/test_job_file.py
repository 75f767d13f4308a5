"""A job that cannot be read: which file, which field, what to write."""

from __future__ import annotations

import json

import pytest
from support.command import JOB, SIDE, run


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (b"", "is not JSON"),
        (b"{", "line 1, column 2"),
        (b"\xff\xfe", "is not UTF-8"),
        (b"[1]", "the job"),
        (b"[" * 100_000, "nesting"),
        (b'{"unit": ' + b"9" * 5000 + b"}", "a number"),
        (b'{"unit": "in", "unit": "cm"}', "unit is written twice"),
        (
            b'{"left": {"leg": [{"girth": ["9"]}, {"height": "4", "height": "5"}]}}',
            "left.leg[1].height is written twice",
        ),
        (b'{"one\\ntwo": 1}', r"'one\ntwo': there is no such field"),
        (b'{"unit": "furlong"}', "unit"),
        (json.dumps({**JOB, "hold_h": float("nan")}).encode(), "hold_h"),
        (json.dumps({**JOB, "surprise": 1}).encode(), "surprise"),
        (
            json.dumps({**JOB, "left": {**SIDE, "findings": ["\ud800"]}}).encode(),
            "findings[0]",
        ),  # half a sign
    ],
)
def test_a_job_that_cannot_be_read_gets_exit_2_and_one_sentence(typed: bytes, words: str) -> None:
    """Nothing on standard output; on standard error one line that names the field and what to
    write.
    """
    answer = run("assess", "-", typed=typed)

    assert (answer.returncode, answer.stdout) == (2, "")
    assert len(answer.stderr.splitlines()) == 1
    assert words in answer.stderr


@pytest.mark.parametrize("name", ["no-such-file.json", "."])
def test_a_file_that_cannot_be_read_gets_exit_2_and_one_sentence(name: str) -> None:
    """A wrong name and a folder are named, with what to write instead."""
    answer = run("assess", name)

    assert (answer.returncode, answer.stdout) == (2, "")
    assert answer.stderr.startswith(f"{name} cannot be read")
    assert len(answer.stderr.splitlines()) == 1
