"""`assess` and `handbook` as processes: what they print."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.command import JOB, run

from fitcounter.fit.handbook.all_figures import entries


def test_assess_answers_a_file_and_standard_input_alike(tmp_path: Path) -> None:
    """A job in, one JSON object out, exit 0; the same from a file as from -."""
    path = tmp_path / "job.json"
    path.write_text(json.dumps(JOB), encoding="utf-8-sig")  # some editors put a mark at the start

    from_file, from_input = run("assess", str(path)), run("assess", "-", typed=json.dumps(JOB))

    assert (from_file.returncode, from_file.stderr) == (0, "")
    assert from_file.stdout == from_input.stdout
    answer = json.loads(from_file.stdout)
    assert answer["verdict"] in ("none", "routine", "stages", "panel", "repair-first", "refuse")
    assert answer["left"]["worst"]["height_mm"] == pytest.approx(304.8)


def test_a_terminal_without_utf_8_gets_the_same_answer_in_escapes() -> None:
    """The fractions of an inch survive a terminal that has no such signs."""
    plain = run("assess", "-", typed=json.dumps(JOB))
    latin = run("assess", "-", typed=json.dumps(JOB), PYTHONIOENCODING="ascii")
    assert "⅝" in plain.stdout
    assert latin.stdout.isascii()
    assert json.loads(latin.stdout) == json.loads(plain.stdout)


def test_the_handbook_prints_every_figure_with_its_source() -> None:
    """One line a figure, each with a word of trust and a source."""

    lines = run("handbook").stdout.splitlines()

    assert all(
        f"({entry.trust}: {entry.source})" in line
        for entry, line in zip(entries(), lines, strict=False)
    )
    anchors, saying = lines[len(entries()) : -1], lines[-1]
    assert anchors
    assert all(line.startswith("Beside the ceiling · ") for line in anchors)
    assert "15.2 %" in anchors[0]
    assert "4.137 MPa" in saying


def test_the_handbook_and_refusals_are_said_in_the_terminals_language() -> None:
    """The answer itself is for a script, and English."""
    lines = run("handbook", LANG="es_ES.UTF-8").stdout.splitlines()
    refused = run("assess", "-", typed=json.dumps({**JOB, "dial": "bold"}), LANG="es_ES.UTF-8")
    answer = run("assess", "-", typed=json.dumps(JOB), LANG="es_ES.UTF-8")

    assert any("(práctica habitual: " in line for line in lines)
    assert not any("common practice" in line for line in lines)
    assert lines[-1].startswith("Un dicho · ")
    assert refused.returncode == 2
    assert refused.stderr.startswith("dial: no existe ese campo; escribe uno de estos: unit, leg,")
    plain = run("assess", "-", typed=json.dumps(JOB))
    assert json.loads(answer.stdout) == json.loads(plain.stdout)
